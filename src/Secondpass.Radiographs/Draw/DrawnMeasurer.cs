using Secondpass.Domain;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;

namespace Secondpass.Radiographs.Draw;

/// <summary>Reads lengths, angles and outlines off what a person drew on a film.</summary>
/// <remarks>
/// All are as projected on the film and along its scale. An interval is 95 %: the errors of the clicks, taken as independent and normal
/// (<see cref="DrawnOnFilms.ClickDeviationPixels"/>), are carried through to first order by differences; the scale's share
/// (<see cref="Calibration.DeviationShare"/>) is added in squares. Neither says where somebody else would see a lesion's edge.
/// </remarks>
public static class DrawnMeasurer
{
    private const double StepPixels = 0.25;
    private const double Sure = 1.96;

    /// <summary>The distance between two clicks that is as large as its own error, in pixels.</summary>
    private static readonly double LeastPixels = Sure * Math.Sqrt(2) * DrawnOnFilms.ClickDeviationPixels.Value;

    /// <summary>Measures what was drawn.</summary>
    /// <param name="film">The film.</param>
    /// <param name="scale">Its scale; null when it has none: then only angles are given.</param>
    /// <param name="shape">What was drawn.</param>
    /// <returns>
    /// The figures; or a refusal, which quotes what is wrong: <c>drawing_incomplete</c>, <c>point_outside_film</c>, <c>points_too_close</c>,
    /// <c>outline_too_short</c>, <c>outline_too_long</c>, <c>outline_too_narrow</c>, <c>outline_crosses_itself</c>, <c>no_scale</c>,
    /// <c>no_true_length</c>, <c>implausible_true_length</c>, <c>seen_longer_than_magnified</c>, <c>angle_to_film_absurd</c>.
    /// </returns>
    public static Answer<DrawnResult> Measure(Radiograph film, Calibration? scale, DrawnShape shape)
    {
        ArgumentNullException.ThrowIfNull(film);
        ArgumentNullException.ThrowIfNull(shape);
        foreach (var place in shape.Points)
        {
            if (!film.Holds(place))
            {
                return DrawRefusals.OutsideFilm(place, film);
            }
        }

        return shape.Kind switch
        {
            DrawnKind.Length => Straight(shape, scale),
            DrawnKind.KnownLength => Known(shape, scale),
            DrawnKind.Lesion => Closed(shape, scale),
            _ => Turned(shape),
        };
    }

    /// <summary>The closed curve that a lesion's outline runs along, for showing it.</summary>
    /// <param name="points">The points of an outline that was measured.</param>
    public static IReadOnlyList<PixelPoint> Curve(IReadOnlyList<PixelPoint> points) => Outline.Curve(Apart(points));

    private static Answer<DrawnResult> Straight(DrawnShape shape, Calibration? scale) =>
        SeenLength(shape, scale).TryGet(out var seen, out var refusal) ? new DrawnResult([seen], Used(scale), [], []) : refusal;

    private static Answer<DrawnResult> Known(DrawnShape shape, Calibration? scale)
    {
        if (!SeenLength(shape, scale).TryGet(out var seen, out var refusal))
        {
            return refusal;
        }

        if (shape.TrueLength is not { } length)
        {
            return DrawRefusals.NoTrueLength();
        }

        return Foreshortened.Of(seen, length).TryGet(out var figures, out refusal) ? new DrawnResult([seen, .. figures], Used(scale), [], []) : refusal;
    }

    private static Answer<DrawnFigure> SeenLength(DrawnShape shape, Calibration? scale)
    {
        if (shape.Points.Count != 2)
        {
            return DrawRefusals.NumberOfPoints(shape, 2);
        }

        var pixels = shape.Points[0].DistanceTo(shape.Points[1]);
        if (pixels < LeastPixels)
        {
            return DrawRefusals.TooClose(pixels, LeastPixels);
        }

        return scale is null ? DrawRefusals.NoScale() : Figure(DrawnQuantity.Length, pixels, HalfOfClicks(shape.Points, points => points[0].DistanceTo(points[1])), scale);
    }

    private static Answer<DrawnResult> Turned(DrawnShape shape)
    {
        var lines = shape.Kind == DrawnKind.AngleOfLines;
        var needed = lines ? 4 : 3;
        if (shape.Points.Count != needed)
        {
            return DrawRefusals.NumberOfPoints(shape, needed);
        }

        var (one, other) = Arms(shape.Points);
        var shorter = Math.Min(Size(one), Size(other));
        if (shorter < LeastPixels)
        {
            return DrawRefusals.TooClose(shorter, LeastPixels);
        }

        // Signed, so that the error of an angle near 0 or 180 is not lost where it folds back.
        var signed = Signed(shape.Points);
        var half = HalfOfClicks(shape.Points, points => signed + Wrapped(Signed(points) - signed));
        var greatest = 180.0;
        if (lines)
        {
            greatest = 90;
            signed = signed > 90 ? signed - 180 : signed < -90 ? signed + 180 : signed;
        }

        var value = Math.Min(Math.Abs(signed), greatest);
        return new DrawnResult(
            [new DrawnFigure(DrawnQuantity.Angle, new Estimate(value, new Interval(Math.Max(0, value - half), Math.Min(greatest, value + half))), half, 0)],
            null,
            [],
            []);

        (PixelPoint One, PixelPoint Other) Arms(IReadOnlyList<PixelPoint> points) =>
            lines ? (points[1] - points[0], points[3] - points[2]) : (points[0] - points[1], points[2] - points[1]);

        double Signed(IReadOnlyList<PixelPoint> points)
        {
            var (from, to) = Arms(points);
            return double.RadiansToDegrees(Math.Atan2((from.X * to.Y) - (from.Y * to.X), (from.X * to.X) + (from.Y * to.Y)));
        }
    }

    private static Answer<DrawnResult> Closed(DrawnShape shape, Calibration? scale)
    {
        var points = Apart(shape.Points);
        if (points.Count < 3)
        {
            return DrawRefusals.TooFewOfOutline(points.Count);
        }

        if (points.Count > DrawnOnFilms.GreatestPointCount.Value)
        {
            return DrawRefusals.TooManyOfOutline(points.Count);
        }

        var curve = Outline.Curve(points);
        var (from, to) = Outline.Farthest(curve);
        var along = curve[to] - curve[from];
        var across = new PixelPoint(-along.Y, along.X) * (1 / Size(along));
        var width = Outline.Extent(curve, across);
        if (width < LeastPixels)
        {
            return DrawRefusals.TooNarrow(width, LeastPixels);
        }

        if (Outline.Crossing(curve) is { } crossing)
        {
            return DrawRefusals.CrossesItself(crossing.One / Outline.Steps, crossing.Other / Outline.Steps, points.Count);
        }

        if (scale is null)
        {
            return DrawRefusals.NoScale();
        }

        // The ends of the diameter and the direction across stay where they are: to first order that changes nothing of the largest.
        var area = Outline.Area(curve);
        var perSquare = scale.MillimetresPerPixel * scale.MillimetresPerPixel;
        var areaClicks = HalfOfClicks(points, moved => Outline.Area(Outline.Curve(moved))) * perSquare;
        var areaScale = Sure * 2 * scale.DeviationShare * area * perSquare;
        return new DrawnResult(
            [
                new DrawnFigure(DrawnQuantity.Area, NotBelowZero(area * perSquare, areaClicks, areaScale), areaClicks, areaScale),
                Figure(DrawnQuantity.LargestDiameter, Size(along), HalfOfClicks(points, moved => Between(Outline.Curve(moved))), scale),
                Figure(DrawnQuantity.DiameterAcross, width, HalfOfClicks(points, moved => Outline.Extent(Outline.Curve(moved), across)), scale),
                Figure(DrawnQuantity.Perimeter, Outline.Perimeter(curve), HalfOfClicks(points, moved => Outline.Perimeter(Outline.Curve(moved))), scale),
            ],
            Used(scale),
            curve,
            [curve[from], curve[to]]);

        double Between(PixelPoint[] moved) => moved[from].DistanceTo(moved[to]);
    }

    /// <summary>A length in mm with its interval.</summary>
    private static DrawnFigure Figure(DrawnQuantity quantity, double pixels, double clicksPixels, Calibration scale)
    {
        var value = pixels * scale.MillimetresPerPixel;
        var (clicks, share) = (clicksPixels * scale.MillimetresPerPixel, Sure * scale.DeviationShare * value);
        return new DrawnFigure(quantity, NotBelowZero(value, clicks, share), clicks, share);
    }

    private static Estimate NotBelowZero(double value, double one, double other)
    {
        var half = double.Hypot(one, other);
        return new Estimate(value, new Interval(Math.Max(0, value - half), value + half));
    }

    // Half of the 95 % interval that clicks give to what is made of them.
    private static double HalfOfClicks(IReadOnlyList<PixelPoint> points, Func<IReadOnlyList<PixelPoint>, double> make)
    {
        var moved = points.ToArray();
        double squares = 0;
        for (var i = 0; i < moved.Length; i++)
        {
            foreach (var step in new[] { new PixelPoint(StepPixels, 0), new PixelPoint(0, StepPixels) })
            {
                moved[i] = points[i] + step;
                var more = make(moved);
                moved[i] = points[i] - step;
                squares += Math.Pow((more - make(moved)) / (2 * StepPixels), 2);
            }

            moved[i] = points[i];
        }

        return Sure * DrawnOnFilms.ClickDeviationPixels.Value * Math.Sqrt(squares);
    }

    // A double click sets two points on one place.
    private static List<PixelPoint> Apart(IReadOnlyList<PixelPoint> points)
    {
        var apart = new List<PixelPoint>();
        foreach (var point in points)
        {
            if (apart.Count == 0 || point.DistanceTo(apart[^1]) >= 1)
            {
                apart.Add(point);
            }
        }

        while (apart.Count > 1 && apart[^1].DistanceTo(apart[0]) < 1)
        {
            apart.RemoveAt(apart.Count - 1);
        }

        return apart;
    }

    private static double Size(PixelPoint arm) => double.Hypot(arm.X, arm.Y);

    private static double Wrapped(double degrees) => Math.IEEERemainder(degrees, 360);

    private static DrawnScale? Used(Calibration? scale) => scale is null ? null : new DrawnScale(scale.MillimetresPerPixel, scale.Source);
}
