using System.Globalization;
using Secondpass.Domain.Films;

namespace Secondpass.Domain.Evidence;

/// <summary>A published share with the spread between the teeth of a study: a mean and its standard deviation.</summary>
/// <remarks>Not a 95 % interval: about two thirds of single teeth lie within one deviation, if they spread evenly about the mean.</remarks>
/// <param name="MeanPercent">Mean over the study's teeth, in percent.</param>
/// <param name="StandardDeviationPercent">Standard deviation between them, in percent.</param>
public readonly record struct MeanShare(double MeanPercent, double StandardDeviationPercent)
{
    /// <summary>Such as "31.2 ± 10.1 (mean ± standard deviation)".</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{MeanPercent} ± {StandardDeviationPercent} (mean ± standard deviation)");
}

/// <summary>A published share with the spread between the teeth of a study: a median and the width of the middle half.</summary>
/// <param name="MedianPercent">Median over the study's teeth, in percent.</param>
/// <param name="QuartileRangePercent">From the first to the third quartile, in percent.</param>
public readonly record struct MedianShare(double MedianPercent, double QuartileRangePercent)
{
    /// <summary>Such as "5.39 (median; interquartile range 4.71)".</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{MedianPercent} (median; interquartile range {QuartileRangePercent})");
}

/// <summary>A published share left in one third.</summary>
/// <param name="Third">The third.</param>
/// <param name="After">What the filling was taken out with.</param>
/// <param name="Share">The share.</param>
public sealed record PublishedThird(CanalThird Third, string After, Sourced<MeanShare> Share);

/// <summary>What studies found left of a root filling after it was taken out. All on extracted teeth; none by a film before and a film after.</summary>
public static class RemainingFilling
{
    private const string Oval = "J Endod 2016 (authors from memory: Crozeta et al.): oval distal canals; whether by area or by volume, how many teeth, and the coronal third are not stated in what was read";
    private const string OvalPremolars = "Seckler et al., Iran Endod J 2024;19:199–207: oval premolars, 10 in each group; mean or median not stated";

    /// <summary>Middle third, adaptive-motion rotary file.</summary>
    public static Sourced<MeanShare> MiddleAfterAdaptiveMotion { get; } = ByThirdOf("middle", "an adaptive-motion rotary file", 31.2, 10.1);

    /// <summary>Middle third, reciprocating file.</summary>
    public static Sourced<MeanShare> MiddleAfterReciprocating { get; } = ByThirdOf("middle", "a reciprocating file", 52.4, 14.1);

    /// <summary>Apical third, adaptive-motion rotary file.</summary>
    public static Sourced<MeanShare> ApicalAfterAdaptiveMotion { get; } = ByThirdOf("apical", "an adaptive-motion rotary file", 44.8, 20.6);

    /// <summary>Apical third, rotary retreatment files.</summary>
    public static Sourced<MeanShare> ApicalAfterRotary { get; } = ByThirdOf("apical", "rotary retreatment files", 48.6, 16.8);

    /// <summary>Apical third, reciprocating file.</summary>
    public static Sourced<MeanShare> ApicalAfterReciprocating { get; } = ByThirdOf("apical", "a reciprocating file", 70.6, 7.2);

    /// <summary>The coronal third: looked for, not found.</summary>
    public static Sourced<double> Coronal { get; } = new(
        "Filling left in the coronal third",
        0,
        "%",
        null,
        "No figure by third was found for it",
        Standing.Missing);

    /// <summary>Whole canal, after rotary files and shaping.</summary>
    public static Sourced<MedianShare> WholeAfterRotaryAndShaping { get; } = new(
        "Filling left in the whole canal after rotary files and shaping",
        new MedianShare(5.39, 4.71),
        "%",
        null,
        "Solomonov et al., J Endod 2012;38:1283–1287: oval distal canals; the study's other group could not be read",
        Standing.Published);

    /// <summary>Volumes before and after a finishing step, epoxy sealer.</summary>
    public static Sourced<string> VolumeWithEpoxySealer { get; } = new(
        "Filling left after the instruments, then after ultrasonically driven irrigation, or after an adaptive-core finishing file; epoxy sealer",
        "1.35, then 0.30 or 0.07",
        "mm³",
        null,
        OvalPremolars,
        Standing.Published);

    /// <summary>Volumes before and after a finishing step, calcium silicate sealer.</summary>
    public static Sourced<string> VolumeWithCalciumSilicateSealer { get; } = new(
        "Filling left after the instruments, then after ultrasonically driven irrigation, or after an adaptive-core finishing file; calcium silicate sealer",
        "1.02, then 0.29 or 0.01",
        "mm³",
        null,
        OvalPremolars,
        Standing.Published);

    /// <summary>The range over micro-CT studies.</summary>
    public static Sourced<string> OverStudies { get; } = new(
        "Filling left anywhere in the canal, from the least to the greatest of the micro-CT studies reviewed",
        "0.02 to 43.9",
        "%",
        null,
        "Yang et al., Eur Endod J, volume 7, from page 178: a review; adaptive core against ultrasonics not significantly different",
        Standing.Published);

    /// <summary>Whether any method removes everything.</summary>
    public static Sourced<string> NeverAll { get; } = new(
        "Filling removed completely, 22 micro-CT studies",
        "by no method",
        "–",
        null,
        "Rossi-Fedele, Ahmed, J Endod 2017;43:520–526",
        Standing.Published);

    /// <summary>Shares that are published by third, from the orifice down.</summary>
    public static IReadOnlyList<PublishedThird> ByThird { get; } =
    [
        new(CanalThird.Middle, "an adaptive-motion rotary file", MiddleAfterAdaptiveMotion),
        new(CanalThird.Middle, "a reciprocating file", MiddleAfterReciprocating),
        new(CanalThird.Apical, "an adaptive-motion rotary file", ApicalAfterAdaptiveMotion),
        new(CanalThird.Apical, "rotary retreatment files", ApicalAfterRotary),
        new(CanalThird.Apical, "a reciprocating file", ApicalAfterReciprocating),
    ];

    private static Sourced<MeanShare> ByThirdOf(string third, string after, double mean, double deviation) => new(
        $"Filling left in the {third} third after {after}",
        new MeanShare(mean, deviation),
        "%",
        null,
        Oval,
        Standing.Published);
}
