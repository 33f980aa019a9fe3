using Secondpass.Domain.Cases;
using Secondpass.Domain.Films;
using Secondpass.Exchange.Wording;
using Secondpass.Job.Cases;

namespace Secondpass.Job.Shown;

/// <summary>A kept measurement in words.</summary>
/// <param name="Number">Its number in the case.</param>
/// <param name="Name">Its name.</param>
/// <param name="Kind">What it is.</param>
/// <param name="Figures">Its figures.</param>
/// <param name="Corrected">What a length would be, were it foreshortened as an instrument beside it, in sentences.</param>
/// <param name="Scale">The scale that it was measured with and where it came from; null where it needed none.</param>
/// <param name="HasOtherScale">Whether its film has another scale by now.</param>
public sealed record ShownMeasurement(int Number, string Name, string Kind, IReadOnlyList<ShownFigure> Figures, IReadOnlyList<string> Corrected, string? Scale, bool HasOtherScale)
{
    /// <summary>What has to be said beside what is drawn on a film.</summary>
    public static IReadOnlyList<string> Cautions => DrawnWords.Cautions;

    /// <summary>One of the case's measurements in words.</summary>
    /// <param name="it">The case.</param>
    /// <param name="one">The measurement.</param>
    /// <param name="now">The scale that its film has now.</param>
    public static ShownMeasurement Of(DentalCase it, DrawnMeasurement one, ShownScale now)
    {
        ArgumentNullException.ThrowIfNull(now);
        ArgumentNullException.ThrowIfNull(one);
        return new ShownMeasurement(
            one.Number,
            one.Name,
            DrawnWords.Of(one.Shape.Kind),
            [.. one.Figures.Select(ShownFigure.Of)],
            [.. ExportMeasurements.Corrected(it, one).Select(corrected => DrawnWords.Corrected(corrected.Length, corrected.By))],
            one.Scale is { } scale ? FilmWords.Used(scale) : null,
            now.MillimetresPerPixel is { } millimetres && one.HasOtherScaleThan(millimetres));
    }
}

/// <summary>A lesion on two films, in words.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Before">The earlier film's outline; where it isn't known which is earlier, that on one of the two.</param>
/// <param name="After">The other one's.</param>
/// <param name="IsOrderKnown">Whether it is known which is earlier.</param>
/// <param name="Sentences">What changed, or why that isn't told.</param>
public sealed record ShownLesionChange(string Name, DrawnMeasurement Before, DrawnMeasurement After, bool IsOrderKnown, IReadOnlyList<string> Sentences)
{
    /// <summary>What has to be said beside a change.</summary>
    public static string Caution => DrawnWords.ChangeCaution;

    /// <summary>Every lesion that is outlined under one name on several films of the case.</summary>
    /// <param name="it">The case.</param>
    /// <param name="hasOtherScale">Whether an outline was measured with another scale than its film has now.</param>
    public static IReadOnlyList<ShownLesionChange> Of(DentalCase it, Func<DrawnMeasurement, bool> hasOtherScale) =>
    [
        .. LesionChange.Of(it).Select(change => new ShownLesionChange(
            change.After.Name,
            change.Before,
            change.After,
            change.IsOrderKnown,
            Words(change, ChangeWords.WhyNone(change, hasOtherScale(change.Before) || hasOtherScale(change.After))))),
    ];

    private static IReadOnlyList<string> Words(LesionChange change, string? whyNone) => whyNone is null
        ? [DrawnWords.Change(change, DrawnQuantity.Area), DrawnWords.Change(change, DrawnQuantity.LargestDiameter)]
        : [ChangeWords.Both(change, DrawnQuantity.Area), ChangeWords.Both(change, DrawnQuantity.LargestDiameter), whyNone];
}
