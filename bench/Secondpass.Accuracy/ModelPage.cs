namespace Secondpass.Accuracy;

/// <summary>Puts fresh tables into a page of docs/models/, between its two marks.</summary>
internal static class ModelPage
{
    private const string From = "<!-- figures: written by bench/Secondpass.Accuracy docs -->";
    private const string To = "<!-- end of figures -->";

    /// <summary>Replaces what stands between the marks.</summary>
    /// <param name="name">The page's file name.</param>
    /// <param name="tables">The new text.</param>
    public static void Replace(string name, string tables)
    {
        var file = Path.Combine(Root(), "docs", "models", name);
        var text = File.ReadAllText(file);
        var start = text.IndexOf(From, StringComparison.Ordinal) + From.Length;
        var end = text.IndexOf(To, StringComparison.Ordinal);
        File.WriteAllText(file, text[..start] + "\n\n" + tables + "\n" + text[end..]);
        Console.WriteLine($"written: {file}");
    }

    /// <summary>The repository's root.</summary>
    public static string Root()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (!File.Exists(Path.Combine(folder.FullName, "Secondpass.slnx")))
        {
            folder = folder.Parent ?? throw new InvalidOperationException("Run it inside the repository.");
        }

        return folder.FullName;
    }
}
