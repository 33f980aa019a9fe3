using System.Runtime.Versioning;

namespace Secondpass.Faults.Commands;

/// <summary>A folder, with spaces in its path, that holds a copy of one of the repository's scripts and stand-ins for the programs that it calls.</summary>
[UnsupportedOSPlatform("windows")]
internal sealed class ScriptFolder : IDisposable
{
    /// <summary>Makes the folder.</summary>
    /// <param name="script">The script's name at the repository's root.</param>
    public ScriptFolder(string script)
    {
        Root = Path.Combine(Directory.CreateTempSubdirectory("secondpass script ").FullName, "a clone");
        Directory.CreateDirectory(Root);
        Directory.CreateDirectory(Programs);
        File.Copy(Path.Combine(Repository(), script), At(script));
    }

    /// <summary>The folder that stands for a clone of the repository.</summary>
    public string Root { get; }

    /// <summary>The folder with the stand-ins.</summary>
    public string Programs => Path.Combine(Root, "..", "programs");

    /// <summary>A path in the clone.</summary>
    public string At(params string[] parts) => Path.Combine([Root, .. parts]);

    /// <summary>Writes a file of the clone.</summary>
    public void Write(string path, string text)
    {
        Directory.CreateDirectory(Path.GetDirectoryName(At(path))!);
        File.WriteAllText(At(path), text);
    }

    /// <summary>Puts a bash script in place of a program.</summary>
    public void StandIn(string program, string text)
    {
        var path = Path.Combine(Programs, program);
        File.WriteAllText(path, "#!/bin/bash\n" + text);
        File.SetUnixFileMode(path, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
    }

    /// <inheritdoc/>
    public void Dispose() => Directory.Delete(Path.GetDirectoryName(Root)!, recursive: true);

    private static string Repository()
    {
        var folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "Secondpass.slnx")))
        {
            folder = Path.GetDirectoryName(folder) ?? throw new InvalidOperationException("The tests do not run inside the repository.");
        }

        return folder;
    }
}
