using Secondpass.Domain;

namespace Secondpass.Job.Incoming;

/// <summary>Folders of this computer, to be tapped through.</summary>
public static class FindFolder
{
    /// <summary>Where to begin: this user's own folder, where there is one.</summary>
    public static string Begin { get; } = Environment.GetFolderPath(Environment.SpecialFolder.UserProfile) is { Length: > 0 } own ? own : Path.GetPathRoot(AppContext.BaseDirectory)!;

    /// <summary>What lies in a folder.</summary>
    /// <param name="path">Its full path; empty for the drives of this computer.</param>
    /// <returns>Its folders and how many files; or a refusal: no such folder, it may not be read.</returns>
    public static Answer<ShownFolder> Below(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        if (path.Length == 0)
        {
            return new ShownFolder("This computer", null, [.. DriveInfo.GetDrives().Where(drive => drive.IsReady).Select(drive => new NamedFolder(drive.Name, drive.Name))], 0);
        }

        try
        {
            var folder = new DirectoryInfo(path);
            if (!Path.IsPathFullyQualified(path) || !folder.Exists)
            {
                return NotThere(path);
            }

            var options = new EnumerationOptions { AttributesToSkip = FileAttributes.Hidden | FileAttributes.System, IgnoreInaccessible = true };
            return new ShownFolder(
                folder.FullName,
                folder.Parent?.FullName ?? (OperatingSystem.IsWindows() ? string.Empty : null),
                [.. folder.EnumerateDirectories("*", options).OrderBy(one => one.Name, StringComparer.OrdinalIgnoreCase).Select(one => new NamedFolder(one.Name, one.FullName))],
                folder.EnumerateFiles("*", options).Count());
        }
        catch (Exception failure) when (FilmFile.IsOfTheDisk(failure) || failure is ArgumentException)
        {
            return NotThere(path);
        }
    }

    private static Refusal NotThere(string path) => new(
        "no_such_folder",
        $"The folder “{path}” is not there, or may not be read.",
        "See whether its drive or network share is connected, or choose another.");
}

/// <summary>A folder and what lies in it.</summary>
/// <param name="Path">Its full path.</param>
/// <param name="Above">The path of the folder that it lies in, empty for the drives of this computer; null when it is the outermost.</param>
/// <param name="Folders">The folders in it, by name.</param>
/// <param name="FileCount">How many files lie in it.</param>
public sealed record ShownFolder(string Path, string? Above, IReadOnlyList<NamedFolder> Folders, int FileCount);

/// <summary>A folder by its name.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Path">Its full path.</param>
public sealed record NamedFolder(string Name, string Path);
