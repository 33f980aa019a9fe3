namespace Secondpass.Job.Documents;

/// <summary>Quotes what a person or a file gave, so that a message shows it and stays one short line.</summary>
public static class Quoted
{
    /// <summary>The text in quotation marks, cut to a length, with control characters shown as a dot.</summary>
    /// <param name="text">What was given.</param>
    /// <param name="longest">The most characters shown.</param>
    public static string Text(string text, int longest = 80) => $"“{Cut(text, longest)}”";

    /// <summary>The text cut to a length, without marks.</summary>
    /// <param name="text">What was given.</param>
    /// <param name="longest">The most characters shown.</param>
    public static string Cut(string text, int longest)
    {
        ArgumentNullException.ThrowIfNull(text);
        var shown = text.Length <= longest ? text : text[..longest] + "…";
        return string.Concat(shown.Select(character => char.IsControl(character) ? '·' : character));
    }
}
