using Secondpass.Domain.Quantities;

namespace Secondpass.Accuracy;

/// <summary>One estimate beside its truth.</summary>
/// <param name="Value">The estimate.</param>
/// <param name="Truth">The truth, in the same unit.</param>
/// <param name="Low">Low end of the 95 % interval.</param>
/// <param name="High">High end.</param>
internal readonly record struct Scored(double Value, double Truth, double Low, double High)
{
    /// <summary>The pair of films that it comes from: estimates of one pair err together.</summary>
    public string Pair { get; init; } = string.Empty;

    /// <summary>An estimate beside its truth.</summary>
    public static Scored Of(Estimate estimate, double truth) => new(estimate.Value, truth, estimate.Interval.Low, estimate.Interval.High);

    public double Error => Value - Truth;

    public bool Covered => Truth >= Low && Truth <= High;

    /// <summary>Width of the interval, plus forty times how far the truth lies outside it; lower is better (Winkler, J Am Stat Assoc 1972;67:187–191, at 95 %).</summary>
    public double IntervalScore => High - Low + (40 * (Math.Max(0, Low - Truth) + Math.Max(0, Truth - High)));
}

/// <summary>Rows of a table of errors.</summary>
internal static class Errors
{
    private const int Resamples = 2000;

    /// <summary>The head of the table.</summary>
    public const string Head = """
        | what | n | median error | 95th percentile | bias | in the interval | median width | interval score |
        | --- | --- | --- | --- | --- | --- | --- | --- |
        """;

    /// <summary>One row: median and 95th percentile of the error's size, mean error, share of truths in the interval, median width of the interval, mean interval score.</summary>
    /// <param name="what">What the row is about.</param>
    /// <param name="scored">Estimates and truths; at least one.</param>
    /// <param name="format">How numbers are written, such as 0.0.</param>
    public static string Row(string what, IReadOnlyCollection<Scored> scored, string format)
    {
        var sizes = Sizes(scored);
        string[] cells =
        [
            what,
            scored.Count.ToString(CultureInfo.InvariantCulture),
            Text(Quantile(sizes, 0.5)),
            Text(Quantile(sizes, 0.95)),
            Text(scored.Average(one => one.Error)),
            Covered(scored),
            Text(MedianWidth(scored)),
            Text(scored.Average(one => one.IntervalScore)),
        ];
        return "| " + string.Join(" | ", cells) + " |";

        string Text(double value) => value.ToString(format, CultureInfo.InvariantCulture);
    }

    /// <summary>Share of truths that lie in their interval, such as "95 %".</summary>
    public static string Covered(IReadOnlyCollection<Scored> scored) =>
        (100.0 * scored.Count(one => one.Covered) / scored.Count).ToString("0", CultureInfo.InvariantCulture) + " %";

    /// <summary>Median width of the intervals.</summary>
    public static double MedianWidth(IEnumerable<Scored> scored) => Quantile([.. scored.Select(one => one.High - one.Low).Order()], 0.5);

    /// <summary>Sizes of the errors, in order.</summary>
    public static double[] Sizes(IEnumerable<Scored> scored) => [.. scored.Select(one => Math.Abs(one.Error)).Order()];

    /// <summary>Such as "2.5 (2.3–2.8)": a quantile of the error's size with the 95 % interval of drawing whole pairs anew (percentile bootstrap, 2000 draws).</summary>
    /// <param name="scored">Estimates and truths.</param>
    /// <param name="share">Which quantile, 0 to 1.</param>
    public static string ByPair(IReadOnlyCollection<Scored> scored, double share)
    {
        var pairs = scored.GroupBy(one => one.Pair).Select(pair => pair.Select(one => Math.Abs(one.Error)).ToArray()).ToArray();
        var random = new Random(1);
        var drawn = Enumerable.Range(0, Resamples)
            .Select(_ => Quantile([.. Enumerable.Range(0, pairs.Length).SelectMany(_ => pairs[random.Next(pairs.Length)]).Order()], share))
            .Order()
            .ToArray();
        return string.Create(CultureInfo.InvariantCulture, $"{Quantile(Sizes(scored), share):0.0} ({Quantile(drawn, 0.025):0.0}–{Quantile(drawn, 0.975):0.0})");
    }

    /// <summary>The value that a share of the sorted values don't exceed.</summary>
    public static double Quantile(double[] sorted, double share) =>
        sorted[(int)Math.Round(share * (sorted.Length - 1), MidpointRounding.AwayFromZero)];
}
