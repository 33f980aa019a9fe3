using System.Globalization;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Films;

namespace Secondpass.Domain.Anatomy;

/// <summary>Whether a filling meets a published criterion.</summary>
public enum Meets
{
    /// <summary>It does.</summary>
    Yes,

    /// <summary>It doesn't.</summary>
    No,

    /// <summary>The film can't tell: the interval holds the limit, or there is no measure.</summary>
    CantTell,
}

/// <summary>One published criterion of a filling on a film, and whether it is met.</summary>
/// <param name="Name">The criterion in words.</param>
/// <param name="Meets">Whether it is met.</param>
/// <param name="Found">What was found, in words.</param>
/// <param name="Source">Where the criterion is published.</param>
public sealed record FillingCriterion(string Name, Meets Meets, string Found, string Source)
{
    /// <summary>All in one sentence.</summary>
    public string InWords => $"{Name}: {(Meets switch { Meets.Yes => "yes", Meets.No => "no", _ => "can't be told" })}, {Found} ({Source}).";
}

/// <summary>Published criteria of a filling, one by one; there is no score of them all.</summary>
public static class FillingQuality
{
    private const string NoVoids = "No voids";

    private static readonly string EndsInTime = string.Create(CultureInfo.InvariantCulture, $"Filling ends 0–{FilmSigns.AdequateShortOfEnd.Value:0} mm short of the radiographic end");

    /// <summary>The names of all criteria, in their order.</summary>
    public static IReadOnlyList<string> Names { get; } = [EndsInTime, NoVoids];

    /// <summary>The criteria that one film can speak to.</summary>
    /// <param name="measures">Measures of a filled branch.</param>
    /// <returns>One entry for each; none where the film has no scale or no filling is seen.</returns>
    public static IReadOnlyList<FillingCriterion> Of(BranchMeasures measures)
    {
        ArgumentNullException.ThrowIfNull(measures);
        return measures is { FilledLength: null } or { FillingEndToCanalEnd: null, WhyNoFillingEnd: null } ? [] : [Length(measures), Voids(measures)];
    }

    private static FillingCriterion Length(BranchMeasures measures)
    {
        var limit = FilmSigns.AdequateShortOfEnd;
        if (measures.FillingEndToCanalEnd is not { } end)
        {
            return new FillingCriterion(EndsInTime, Meets.CantTell, "its end is hidden by another filling", Authors(limit));
        }

        var meets = end.Interval.Low >= 0 && end.Interval.High <= limit.Value ? Meets.Yes
            : end.Interval.High < 0 || end.Interval.Low > limit.Value ? Meets.No
            : Meets.CantTell;
        return new FillingCriterion(EndsInTime, meets, string.Create(CultureInfo.InvariantCulture, $"{end.Value:0.0} mm, between {end.Interval.Low:0.0} and {end.Interval.High:0.0} mm"), Authors(limit));
    }

    // A film that shows none doesn't prove that there is none: voids towards or away from the film are hidden.
    private static FillingCriterion Voids(BranchMeasures measures) => measures.Voids.Count == 0
        ? new FillingCriterion(NoVoids, Meets.CantTell, "none is seen, and a film hides small ones", Authors(FilmSigns.AdequateShortOfEnd))
        : new FillingCriterion(NoVoids, Meets.No, string.Create(CultureInfo.InvariantCulture, $"voids seen over {measures.VoidPercent:0} % of its length"), Authors(FilmSigns.AdequateShortOfEnd));

    private static string Authors(Sourced<double> criterion) => criterion.Source.Split(", doi")[0];
}
