using Secondpass.Domain;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;

namespace Secondpass.Radiographs.Draw;

/// <summary>What an instrument of known length tells of how lengths along it are foreshortened.</summary>
/// <remarks>
/// Parallel projection: what lies at the angle θ to the film is seen cos θ as long. The film may magnify meanwhile, which hides a part of it, so
/// the angle's upper end reckons with <see cref="DrawnOnFilms.LargestMagnification"/>.
/// </remarks>
public static class Foreshortened
{
    /// <summary>The shortest known length that is taken.</summary>
    internal const double LeastMillimetres = 5;

    /// <summary>The longest known length that is taken: the longest intra-oral film has a diagonal of about as much.</summary>
    internal const double GreatestMillimetres = 60;

    /// <summary>Foreshortening and the angle that it implies.</summary>
    /// <param name="seen">The length seen, in mm along the film's scale.</param>
    /// <param name="trueLength">The true length.</param>
    internal static Answer<IReadOnlyList<DrawnFigure>> Of(DrawnFigure seen, Millimetres trueLength)
    {
        if (trueLength.Value is < LeastMillimetres or > GreatestMillimetres)
        {
            return DrawRefusals.ImplausibleTrueLength(trueLength.Value);
        }

        var factor = seen.Value.Value / trueLength.Value;
        var clicks = seen.FromClicks / trueLength.Value;
        var scale = factor * double.Hypot(seen.FromScale / seen.Value.Value, DrawnOnFilms.StopReading.Value / trueLength.Value);
        var half = double.Hypot(clicks, scale);
        if (factor - half > DrawnOnFilms.LargestMagnification.Value)
        {
            return DrawRefusals.SeenTooLong(seen.Value.Value, trueLength.Value);
        }

        var angle = Angle(factor);
        if (angle > DrawnOnFilms.LargestForeshortening.Value)
        {
            return DrawRefusals.AngleAbsurd(angle, seen.Value.Value, trueLength.Value);
        }

        var interval = new Interval(Angle(factor + half), Angle((factor - half) / DrawnOnFilms.LargestMagnification.Value));
        return new[]
        {
            new DrawnFigure(DrawnQuantity.Foreshortening, new Estimate(factor, new Interval(Math.Max(0, factor - half), factor + half)), clicks, scale),
            new DrawnFigure(DrawnQuantity.AngleToFilm, new Estimate(angle, interval), Angle(factor - clicks) - angle, interval.High - angle),
        };
    }

    /// <summary>A length as it would be, were it foreshortened as the instrument is.</summary>
    /// <param name="length">A length on the same film.</param>
    /// <param name="known">The instrument of known length.</param>
    /// <returns>The length corrected, its interval wider by what the instrument is uncertain by; or a refusal when it was measured with another scale (<c>other_scale</c>) or runs in another direction (<c>other_direction</c>).</returns>
    /// <exception cref="ArgumentException">One is no length, the other no known length, or they are not on one film.</exception>
    public static Answer<CorrectedLength> Correct(DrawnMeasurement length, DrawnMeasurement known)
    {
        ArgumentNullException.ThrowIfNull(length);
        ArgumentNullException.ThrowIfNull(known);
        if (length.Shape.Kind != DrawnKind.Length || known.Shape.Kind != DrawnKind.KnownLength || length.FilmSha256 != known.FilmSha256)
        {
            throw new ArgumentException("A length is corrected by a known length on its own film.", nameof(known));
        }

        if (length.HasOtherScaleThan(known.Scale?.MillimetresPerPixel))
        {
            return new Refusal(
                "other_scale",
                $"“{length.Name}” and “{known.Name}” were measured with two different scales, so the one is not corrected by the other.",
                "Measure both anew with the scale that the film has now.");
        }

        var turned = Between(length.Shape.Points, known.Shape.Points);
        if (turned > DrawnOnFilms.SameDirection.Value)
        {
            return DrawRefusals.OtherDirection(length.Name, turned);
        }

        var seen = length.Figure(DrawnQuantity.Length)!.Value;
        var factor = known.Figure(DrawnQuantity.Foreshortening)!.Value;
        var value = seen.Value / factor.Value;
        var before = seen.Interval.High - seen.Value;
        var half = value * double.Hypot(before / seen.Value, (factor.Interval.High - factor.Value) / factor.Value);
        return new CorrectedLength(
            new Estimate(value, new Interval(Math.Max(0, value - half), value + half)),
            new Millimetres(value - seen.Value),
            new Millimetres(half - before));
    }

    private static double Angle(double factor) => double.RadiansToDegrees(Math.Acos(Math.Clamp(factor, 0, 1)));

    private static double Between(IReadOnlyList<PixelPoint> one, IReadOnlyList<PixelPoint> other)
    {
        var (a, b) = (one[1] - one[0], other[1] - other[0]);
        return double.RadiansToDegrees(Math.Atan2(Math.Abs((a.X * b.Y) - (a.Y * b.X)), Math.Abs((a.X * b.X) + (a.Y * b.Y))));
    }
}
