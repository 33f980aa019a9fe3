using System.Globalization;

namespace Secondpass.Accuracy;

/// <summary>One estimate beside its truth.</summary>
/// <param name="Value">The estimate.</param>
/// <param name="Truth">The truth, in the same unit.</param>
/// <param name="Low">Low end of the 95 % interval.</param>
/// <param name="High">High end.</param>
internal readonly record struct Scored(double Value, double Truth, double Low, double High)
{
    public double Error => Value - Truth;

    public bool Covered => Truth >= Low && Truth <= High;
}

/// <summary>Rows of a table of errors.</summary>
internal static class Errors
{
    /// <summary>The head of the table.</summary>
    public const string Head = """
        | what | n | median error | 95th percentile | bias | in the interval | median width |
        | --- | --- | --- | --- | --- | --- | --- |
        """;

    /// <summary>One row: median and 95th percentile of the error's size, mean error, share of truths in the interval, median width of the interval.</summary>
    /// <param name="what">What the row is about.</param>
    /// <param name="scored">Estimates and truths; at least one.</param>
    /// <param name="format">How numbers are written, such as 0.0.</param>
    public static string Row(string what, IReadOnlyCollection<Scored> scored, string format)
    {
        var sizes = scored.Select(one => Math.Abs(one.Error)).Order().ToArray();
        var widths = scored.Select(one => one.High - one.Low).Order().ToArray();
        string[] cells =
        [
            what,
            scored.Count.ToString(CultureInfo.InvariantCulture),
            Text(Quantile(sizes, 0.5)),
            Text(Quantile(sizes, 0.95)),
            Text(scored.Average(one => one.Error)),
            (100.0 * scored.Count(one => one.Covered) / scored.Count).ToString("0", CultureInfo.InvariantCulture) + " %",
            Text(Quantile(widths, 0.5)),
        ];
        return "| " + string.Join(" | ", cells) + " |";

        string Text(double value) => value.ToString(format, CultureInfo.InvariantCulture);
    }

    /// <summary>The value that a share of the sorted values don't exceed.</summary>
    public static double Quantile(double[] sorted, double share) =>
        sorted[(int)Math.Round(share * (sorted.Length - 1), MidpointRounding.AwayFromZero)];
}
