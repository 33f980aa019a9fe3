using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;

namespace Secondpass.Domain.Cases;

/// <summary>A lesion outlined under one name on two films of a case: how much larger or smaller the later outline is.</summary>
/// <remarks>
/// The intervals hold what hand and scale leave open on both films. A tube at another angle changes an outline by itself: that is not in
/// them. Nothing is said of healing.
/// </remarks>
/// <param name="Before">On the earlier film.</param>
/// <param name="After">On the later film; its name stands for both.</param>
/// <param name="AreaSquareMillimetres">Change of its area in mm², smaller is negative.</param>
/// <param name="DiameterMillimetres">Change of its largest diameter in mm, smaller is negative.</param>
public sealed record LesionChange(DrawnMeasurement Before, DrawnMeasurement After, Estimate AreaSquareMillimetres, Estimate DiameterMillimetres)
{
    /// <summary>Whether it is known which film is earlier. Where it isn't, nothing is larger or smaller: <see cref="Before"/> is only one of the two.</summary>
    public bool IsOrderKnown { get; init; } = true;

    /// <summary>Every lesion that is outlined under the same name on more than one film, film after film as <see cref="FilmOrder"/> tells it.</summary>
    /// <param name="it">The case.</param>
    public static IReadOnlyList<LesionChange> Of(DentalCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        return
        [
            .. it.Drawn.Where(one => one.Shape.Kind == DrawnKind.Lesion)
                .GroupBy(one => one.Name, StringComparer.OrdinalIgnoreCase)
                .SelectMany(same => Along(it, same.ToDictionary(one => one.FilmSha256))),
        ];
    }

    /// <summary>Whether a change of its area can be told: the interval doesn't hold none.</summary>
    public bool TellsArea => !AreaSquareMillimetres.Interval.Contains(0);

    /// <summary>Whether a change of its largest diameter can be told.</summary>
    public bool TellsDiameter => !DiameterMillimetres.Interval.Contains(0);

    private static IEnumerable<LesionChange> Along(DentalCase it, Dictionary<string, DrawnMeasurement> outlines)
    {
        var films = FilmOrder.Of([.. it.Films.Where(film => outlines.ContainsKey(film.Sha256))]);
        return films.Zip(films.Skip(1), (before, after) => Between(outlines[before.Film.Sha256], outlines[after.Film.Sha256]) with { IsOrderKnown = after.Follows });
    }

    private static LesionChange Between(DrawnMeasurement before, DrawnMeasurement after) =>
        new(before, after, Change(before, after, DrawnQuantity.Area), Change(before, after, DrawnQuantity.LargestDiameter));

    // Each film has a scale of its own, so the errors of both count in full.
    private static Estimate Change(DrawnMeasurement before, DrawnMeasurement after, DrawnQuantity quantity)
    {
        var (one, other) = (before.Figure(quantity)!, after.Figure(quantity)!);
        return Estimate.Within(
            other.Value.Value - one.Value.Value,
            double.Hypot(double.Hypot(one.FromClicks, one.FromScale), double.Hypot(other.FromClicks, other.FromScale)));
    }
}
