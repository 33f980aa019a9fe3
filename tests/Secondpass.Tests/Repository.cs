namespace Secondpass.Tests;

/// <summary>The files of the repository that a test runs in.</summary>
internal static class Repository
{
    /// <summary>The folder that holds Secondpass.slnx.</summary>
    public static string Root { get; } = Find();

    /// <summary>A file or folder by its path from the root.</summary>
    public static string At(params string[] parts) => Path.Combine([Root, .. parts]);

    /// <summary>The text of a file.</summary>
    public static string Text(params string[] parts) => File.ReadAllText(At(parts));

    /// <summary>Files below a folder, by their ending, in a fixed order.</summary>
    public static IEnumerable<string> Files(string folder, string pattern) =>
        Directory.EnumerateFiles(At(folder), pattern, SearchOption.AllDirectories).Order(StringComparer.Ordinal);

    private static string Find()
    {
        var folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "Secondpass.slnx")))
        {
            folder = Path.GetDirectoryName(folder) ?? throw new InvalidOperationException("The tests do not run inside the repository.");
        }

        return folder;
    }
}
