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
public sealed record ShownMeasurement(int Number, string Name, string Kind, IReadOnlyList<ShownFigure> Figures, IReadOnlyList<string> Corrected)
{
    /// <summary>What has to be said beside what is drawn on a film.</summary>
    public static IReadOnlyList<string> Cautions => DrawnWords.Cautions;

    /// <summary>One of the case's measurements in words.</summary>
    public static ShownMeasurement Of(DentalCase it, DrawnMeasurement one)
    {
        ArgumentNullException.ThrowIfNull(one);
        return new ShownMeasurement(
            one.Number,
            one.Name,
            DrawnWords.Of(one.Shape.Kind),
            [.. one.Figures.Select(ShownFigure.Of)],
            [.. ExportMeasurements.Corrected(it, one).Select(corrected => DrawnWords.Corrected(corrected.Length, corrected.By))]);
    }
}

/// <summary>A lesion on two films, in words.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Before">The earlier film's outline.</param>
/// <param name="After">The later one's.</param>
/// <param name="Sentences">What changed.</param>
public sealed record ShownLesionChange(string Name, DrawnMeasurement Before, DrawnMeasurement After, IReadOnlyList<string> Sentences)
{
    /// <summary>What has to be said beside a change.</summary>
    public static string Caution => DrawnWords.ChangeCaution;

    /// <summary>Every lesion that is outlined under one name on several films of the case.</summary>
    public static IReadOnlyList<ShownLesionChange> Of(DentalCase it) =>
    [
        .. LesionChange.Of(it).Select(change => new ShownLesionChange(
            change.After.Name,
            change.Before,
            change.After,
            [DrawnWords.Change(change, DrawnQuantity.Area), DrawnWords.Change(change, DrawnQuantity.LargestDiameter)])),
    ];
}
