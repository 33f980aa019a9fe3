using System.Diagnostics;
using System.Security.Cryptography;
using Secondpass.Browser;

[assembly: AssemblyFixture(typeof(Workbench))]

namespace Secondpass.Browser;

/// <summary>The workbench as a user starts it: by the script at the repository's root, with a data folder of its own.</summary>
public sealed class Workbench : IAsyncLifetime
{
    private readonly Process process = new();

    /// <summary>The repository's root.</summary>
    public static string Root { get; } = FindRoot();

    /// <summary>The time zone in which it runs; null for this computer's.</summary>
    public string? TimeZone { get; init; }

    /// <summary>The address of the database that its store is in; null for one in its data folder.</summary>
    public string? Store { get; init; }

    /// <summary>Whether a store in its data folder is filled with the invented clinic, which takes seconds of both cores.</summary>
    public bool HasClinic { get; init; } = true;

    /// <summary>Where it answers.</summary>
    public Uri Address { get; private set; } = default!;

    /// <summary>Its data folder.</summary>
    public string Data { get; } = Directory.CreateTempSubdirectory("secondpass-browser-").FullName;

    /// <summary>A file that belongs to the repository's product of tests, such as a screenshot; its folder is made.</summary>
    public static string Artifact(params string[] parts)
    {
        var path = Path.Combine([Root, "artifacts", .. parts]);
        Directory.CreateDirectory(Path.GetDirectoryName(path)!);
        return path;
    }

    /// <summary>Runs the command line by the same script.</summary>
    /// <param name="words">The words after the script's name.</param>
    /// <returns>The exit code and what was written to the output.</returns>
    public static async Task<(int ExitCode, string Output)> Command(params string[] words)
    {
        using var command = Process.Start(Script(words))!;
        var output = await command.StandardOutput.ReadToEndAsync();
        await command.WaitForExitAsync();
        return (command.ExitCode, output);
    }

    /// <summary>Whether a film's original file lies in the data folder; films are filed by their SHA-256.</summary>
    public bool Stores(byte[] film) =>
        Directory.GetFiles(Path.Combine(Data, "films"), Convert.ToHexStringLower(SHA256.HashData(film)), SearchOption.AllDirectories).Length == 1;

    /// <inheritdoc/>
    public async ValueTask InitializeAsync()
    {
        string[] kept = Store is not null ? ["--store", Store] : HasClinic ? ["--demo"] : [];
        process.StartInfo = Script([.. kept, "--port", "0", "--data", Data]);
        if (TimeZone is not null)
        {
            process.StartInfo.Environment["TZ"] = TimeZone;
        }

        process.Start();
        const string said = "Secondpass is at ";
        while (await process.StandardOutput.ReadLineAsync() is { } line)
        {
            if (line.StartsWith(said, StringComparison.Ordinal))
            {
                Address = new Uri(line[said.Length..]);
                _ = process.StandardOutput.ReadToEndAsync();
                return;
            }
        }

        throw new InvalidOperationException("./secondpass ended without an address.");
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        process.Kill(entireProcessTree: true);
        await process.WaitForExitAsync();
        process.Dispose();
        Directory.Delete(Data, recursive: true);
    }

    private static ProcessStartInfo Script(params string[] words) => new(Path.Combine(Root, "secondpass"), words)
    {
        RedirectStandardOutput = true,
        WorkingDirectory = Path.GetTempPath(),
    };

    private static string FindRoot()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (!File.Exists(Path.Combine(folder.FullName, "Secondpass.slnx")))
        {
            folder = folder.Parent ?? throw new InvalidOperationException("The tests lie outside the repository.");
        }

        return folder.FullName;
    }
}
