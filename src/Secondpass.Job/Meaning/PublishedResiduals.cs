using System.Globalization;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Films;
using Secondpass.Exchange.Wording;

namespace Secondpass.Job.Meaning;

/// <summary>What is published of filling left, for one third or the whole canal: beside a result as context, never as a verdict on it.</summary>
/// <param name="Where">The third, or "Whole canal".</param>
/// <param name="Found">Each published figure in a sentence, with its spread named; or that none was found.</param>
/// <param name="Sources">What the figures rest on, once each.</param>
public sealed record PublishedResiduals(string Where, IReadOnlyList<string> Found, IReadOnlyList<string> Sources)
{
    /// <summary>What has to be said before any of it is read beside a result.</summary>
    public const string Caution = "Extracted teeth, measured in other ways than by two films: context for your figure, not a mark for it. A standard deviation is the spread between teeth, not an interval of the mean.";

    /// <summary>Everything that is published, from the orifice down, the whole canal last.</summary>
    public static IReadOnlyList<PublishedResiduals> All { get; } =
    [
        .. Enum.GetValues<CanalThird>().Select(Of),
        new(
            "Whole canal",
            [
                string.Create(CultureInfo.InvariantCulture, $"After rotary files and shaping: {RemainingFilling.WholeAfterRotaryAndShaping.Value.MedianPercent:0.#} % (median; the middle half of the teeth spans {RemainingFilling.WholeAfterRotaryAndShaping.Value.QuartileRangePercent:0.#} %)."),
                $"Over the micro-CT studies reviewed: {RemainingFilling.OverStudies.Value} %.",
                $"{RemainingFilling.VolumeWithEpoxySealer.Name}: {RemainingFilling.VolumeWithEpoxySealer.Value} mm³.",
                $"{RemainingFilling.VolumeWithCalciumSilicateSealer.Name}: {RemainingFilling.VolumeWithCalciumSilicateSealer.Value} mm³.",
                $"{RemainingFilling.NeverAll.Name}: {RemainingFilling.NeverAll.Value}.",
            ],
            Once(RemainingFilling.WholeAfterRotaryAndShaping, RemainingFilling.OverStudies, RemainingFilling.VolumeWithEpoxySealer, RemainingFilling.NeverAll)),
    ];

    private static PublishedResiduals Of(CanalThird third)
    {
        var name = ResidueWords.Name(third);
        var rows = RemainingFilling.ByThird.Where(row => row.Third == third).ToList();
        return new PublishedResiduals(
            $"{char.ToUpperInvariant(name[0])}{name[1..]} third",
            rows.Count == 0
                ? [$"No published figure was found for the {name} third."]
                : [.. rows.Select(row => string.Create(CultureInfo.InvariantCulture, $"After {row.After}: {row.Share.Value.MeanPercent:0} ± {row.Share.Value.StandardDeviationPercent:0} % (mean ± standard deviation)."))],
            Once([.. rows.Select(row => row.Share)]));
    }

    private static List<string> Once(params ReadOnlySpan<ISourced> rows)
    {
        var sources = new List<string>();
        foreach (var row in rows)
        {
            if (!sources.Contains(row.Source))
            {
                sources.Add(row.Source);
            }
        }

        return sources;
    }
}
