using Secondpass.Domain.Evidence;
using Secondpass.Domain.Films;

namespace Secondpass.Radiographs.Straighten;

/// <summary>How far lengths on a straightened film err because its corners' marks and its size do.</summary>
/// <remarks>
/// Marks err independently and normally, alike in x and y; the places that are measured stay where they are on the photograph. To
/// first order: the derivative of a length by each of the eight coordinates, by central differences of the closed form, and by the two sides.
/// </remarks>
internal static class LengthsFromMarks
{
    private const double StepPixels = 0.01;
    private const int Places = 5;
    private const int Directions = 8;
    private const double ShortMillimetres = 1;

    /// <summary>Standard deviation of a length, in mm.</summary>
    /// <param name="corners">The marks, clockwise from top left, in pixels of the photograph.</param>
    /// <param name="width">The film's width, in mm.</param>
    /// <param name="height">Its height, in mm.</param>
    /// <param name="markDeviationPixels">Standard deviation of a mark in each direction.</param>
    /// <param name="from">One end on the film, X and Y in mm.</param>
    /// <param name="to">The other end.</param>
    public static double Deviation(IReadOnlyList<PixelPoint> corners, double width, double height, double markDeviationPixels, (double X, double Y) from, (double X, double Y) to)
    {
        var map = PerspectiveMap.ToCorners(width, height, corners);
        var (one, other) = (map.Seen(from.X, from.Y), map.Seen(to.X, to.Y));
        double squares = 0;
        var moved = corners.ToArray();
        for (var i = 0; i < moved.Length; i++)
        {
            foreach (var step in new[] { new PixelPoint(StepPixels, 0), new PixelPoint(0, StepPixels) })
            {
                moved[i] = corners[i] + step;
                var more = Length(PerspectiveMap.ToCorners(width, height, moved), one, other);
                moved[i] = corners[i] - step;
                var less = Length(PerspectiveMap.ToCorners(width, height, moved), one, other);
                squares += Math.Pow(markDeviationPixels * (more - less) / (2 * StepPixels), 2);
            }

            moved[i] = corners[i];
        }

        // A length grows with a side by the square of its share along it.
        var (x, y) = (to.X - from.X, to.Y - from.Y);
        var length = double.Hypot(x, y);
        var side = PhotographedFilms.SideDeviation.Value;
        return Math.Sqrt(squares + Math.Pow(x * x / length * side / width, 2) + Math.Pow(y * y / length * side / height, 2));
    }

    /// <summary>The greatest standard deviation of a short length anywhere but in the film's outermost tenth, as a share of it; a long one errs less.</summary>
    /// <inheritdoc cref="Deviation" path="/param"/>
    public static double WorstShare(IReadOnlyList<PixelPoint> corners, double width, double height, double markDeviationPixels)
    {
        double worst = 0;
        for (var place = 0; place < Places * Places; place++)
        {
            var x = width * (0.1 + (0.8 * (place % Places) / (Places - 1)));
            var y = height * (0.1 + (0.8 * (place / Places) / (Places - 1)));
            for (var direction = 0; direction < Directions; direction++)
            {
                var (sin, cos) = Math.SinCos(Math.PI * direction / Directions);
                var (along, across) = (0.5 * ShortMillimetres * cos, 0.5 * ShortMillimetres * sin);
                worst = Math.Max(worst, Deviation(corners, width, height, markDeviationPixels, (x - along, y - across), (x + along, y + across)) / ShortMillimetres);
            }
        }

        return worst;
    }

    private static double Length(PerspectiveMap map, PixelPoint from, PixelPoint to)
    {
        var (one, other) = (map.Of(from), map.Of(to));
        return double.Hypot(other.X - one.X, other.Y - one.Y);
    }
}
