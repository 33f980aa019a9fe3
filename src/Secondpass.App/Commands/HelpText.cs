using System.Globalization;
using System.Text;
using Secondpass.Job.Documents;

namespace Secondpass.App.Commands;

/// <summary>The help that the program prints, made from the verbs' definitions.</summary>
internal static class HelpText
{
    private const int Width = 96;

    /// <summary>Help on the program.</summary>
    /// <param name="verbs">All verbs; the first is the one that runs when none is named.</param>
    public static string Of(IReadOnlyList<Verb> verbs)
    {
        var text = new StringBuilder()
            .AppendLine("Secondpass: what the last root-canal treatment left, read from radiographs.")
            .AppendLine()
            .AppendLine("  secondpass [VERB] [OPTIONS]")
            .AppendLine()
            .AppendLine("Verbs");
        Table(text, verbs.Select((verb, place) => (verb.Name, verb.Summary + (place == 0 ? "; runs when no verb is named" : string.Empty) + ".")));
        text.AppendLine().AppendLine("  secondpass VERB --help tells more; secondpass --version tells the version.").AppendLine();
        Exits(text);
        text.AppendLine().AppendLine(Caution);
        return Ended(text);
    }

    /// <summary>Help on a verb.</summary>
    public static string Of(Verb verb)
    {
        var text = new StringBuilder()
            .AppendLine(CultureInfo.InvariantCulture, $"secondpass {verb.Name}: {verb.Summary}.")
            .AppendLine()
            .AppendLine(CultureInfo.InvariantCulture, $"  {verb.Usage}")
            .AppendLine();
        foreach (var line in Wrapped(verb.Details, Width))
        {
            text.AppendLine(line);
        }

        if (verb.Words.Count > 0)
        {
            text.AppendLine().AppendLine("Words");
            Table(text, verb.Words.Select(word => (word.Name, word.Means)));
        }

        if (verb.Options.Count > 0)
        {
            text.AppendLine().AppendLine("Options");
            Table(text, verb.Options.Select(option => (option.Usage, option.Means + (option.IsRequired ? " Required." : string.Empty))));
        }

        text.AppendLine();
        Exits(text);
        if (verb.Document is { } document)
        {
            text.AppendLine().AppendLine(CultureInfo.InvariantCulture, $"The answer with --json is described in docs/schema/{DocumentSchema.NameOf(document)}.schema.json.");
        }

        text.AppendLine().AppendLine(Caution);
        return Ended(text);
    }

    private const string Caution = "Secondpass is not a certified medical device; it supports a licensed clinician's judgement.";

    private static void Exits(StringBuilder text)
    {
        text.AppendLine("Exit codes");
        Table(text, ExitCodes.All.Select(code => (((int)code.Code).ToString(CultureInfo.InvariantCulture), code.Means)));
    }

    private static void Table(StringBuilder text, IEnumerable<(string Name, string Means)> rows)
    {
        var all = rows.ToArray();
        var column = all.Max(row => row.Name.Length);
        foreach (var (name, means) in all)
        {
            var shown = name;
            foreach (var line in Wrapped(means, Width - column - 4))
            {
                text.AppendLine(CultureInfo.InvariantCulture, $"  {shown.PadRight(column)}  {line}");
                shown = string.Empty;
            }
        }
    }

    private static IEnumerable<string> Wrapped(string text, int width)
    {
        var line = new StringBuilder();
        foreach (var word in text.Split(' '))
        {
            if (line.Length > 0 && line.Length + 1 + word.Length > width)
            {
                yield return line.ToString();
                line.Clear();
            }

            line.Append(line.Length > 0 ? " " : string.Empty).Append(word);
        }

        yield return line.ToString();
    }

    private static string Ended(StringBuilder text) => text.ToString().ReplaceLineEndings("\n");
}
