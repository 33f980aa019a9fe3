using System.Collections;
using System.Globalization;
using System.Reflection;
using System.Text;
using Secondpass.Domain.Evidence;

namespace Secondpass.App.Commands;

/// <summary>The printed list of all constants, gathered from the domain's own code.</summary>
internal static class EvidenceList
{
    /// <summary>The list as a page, grouped by the type that holds the constants.</summary>
    public static string Markdown()
    {
        var text = new StringBuilder()
            .AppendLine("# Constants and their sources")
            .AppendLine()
            .AppendLine("Made from the program by `./secondpass describe evidence`; a test keeps the two alike.")
            .AppendLine()
            .AppendLine("What a constant rests on:")
            .AppendLine();
        foreach (var (standing, means) in Means)
        {
            text.AppendLine(CultureInfo.InvariantCulture, $"- **{Words(standing)}**: {means}");
        }

        foreach (var (holder, constants) in Gathered())
        {
            text.AppendLine()
                .AppendLine(CultureInfo.InvariantCulture, $"## {holder}")
                .AppendLine()
                .AppendLine("| constant | value | unit | range | rests on | source or reason |")
                .AppendLine("| --- | --- | --- | --- | --- | --- |");
            foreach (var constant in constants)
            {
                var range = constant.Range is { } ends ? string.Create(CultureInfo.InvariantCulture, $"{ends.Low} to {ends.High}") : "–";
                text.AppendLine(CultureInfo.InvariantCulture, $"| {Cell(constant.Name)} | {Cell(Value(constant.BoxedValue))} | {Cell(constant.Unit)} | {range} | {Words(constant.Standing)} | {Cell(constant.Source)} |");
            }
        }

        return text.ToString().ReplaceLineEndings("\n");
    }

    private static readonly (Standing Standing, string Means)[] Means =
    [
        (Standing.Published, "read in the publication named."),
        (Standing.Derived, "exact arithmetic or geometry."),
        (Standing.FromMemory, "recalled, not read; never used as a check."),
        (Standing.CommonPractice, "what the trade does, without a source."),
        (Standing.OwnChoice, "chosen for this product, for the reason given."),
        (Standing.Missing, "looked for and not found; there is no value."),
    ];

    /// <summary>All constants, by the type that holds them.</summary>
    public static IEnumerable<(string Holder, IReadOnlyList<ISourced> Constants)> Gathered() =>
        from type in typeof(ISourced).Assembly.GetTypes()
        where type.Namespace == typeof(ISourced).Namespace
        orderby type.Name
        let constants = ConstantsOf(type)
        where constants.Count > 0
        select (type.Name, (IReadOnlyList<ISourced>)constants);

    private static List<ISourced> ConstantsOf(Type type)
    {
        const BindingFlags Static = BindingFlags.Public | BindingFlags.NonPublic | BindingFlags.Static | BindingFlags.DeclaredOnly;
        var fields = type.GetFields(Static).Where(field => !field.Name.StartsWith('<')).Select(field => field.GetValue(null));
        var properties = type.GetProperties(Static).Where(property => property.GetIndexParameters().Length == 0).Select(property => property.GetValue(null));
        return [.. fields.Concat(properties).SelectMany(Constants).OrderBy(constant => constant.Name, StringComparer.Ordinal)];
    }

    // A constant stands alone, or in a table of constants.
    private static IEnumerable<ISourced> Constants(object? value) => value switch
    {
        ISourced constant => [constant],
        IDictionary table => table.Values.OfType<ISourced>(),
        IEnumerable table => table.OfType<ISourced>(),
        _ => [],
    };

    private static string Value(object? value) => value switch
    {
        null => "none",
        string word => word,
        IEnumerable many => string.Join(", ", many.Cast<object?>().Select(Value)),
        IFormattable number => number.ToString(null, CultureInfo.InvariantCulture),
        _ => value.ToString() ?? string.Empty,
    };

    private static string Words(Standing standing) => standing switch
    {
        Standing.FromMemory => "from memory",
        Standing.CommonPractice => "common practice, no source",
        Standing.OwnChoice => "own choice",
        _ => standing.ToString().ToLowerInvariant(),
    };

    private static string Cell(string text) => text.Replace("|", "\\|", StringComparison.Ordinal).ReplaceLineEndings(" ");
}
