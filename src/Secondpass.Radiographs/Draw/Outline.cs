using Secondpass.Domain.Films;

namespace Secondpass.Radiographs.Draw;

/// <summary>A closed curve through points: the centripetal curve of Catmull and Rom, which neither loops nor overshoots between two of them.</summary>
/// <remarks>Yuksel, Schaefer, Keyser: Parameterization and applications of Catmull–Rom curves. Comput Aided Des 2011;43:747–755.</remarks>
internal static class Outline
{
    /// <summary>Places between two points: an arc of 45° in eight chords is 0.2 % short of area.</summary>
    public const int Steps = 8;

    /// <summary>The curve as a polygon of <see cref="Steps"/> places for each point.</summary>
    /// <param name="points">At least three, none on the next one.</param>
    public static PixelPoint[] Curve(IReadOnlyList<PixelPoint> points)
    {
        var count = points.Count;
        var curve = new PixelPoint[count * Steps];
        for (var i = 0; i < count; i++)
        {
            var (before, from, to, after) = (points[(i + count - 1) % count], points[i], points[(i + 1) % count], points[(i + 2) % count]);
            var (t1, t2) = (Knot(before, from), Knot(from, to));
            var t3 = Knot(to, after);
            for (var step = 0; step < Steps; step++)
            {
                var t = t1 + (t2 * step / Steps);
                var a = before.Towards(from, t / t1);
                var b = from.Towards(to, (t - t1) / t2);
                var c = to.Towards(after, (t - t1 - t2) / t3);
                var ab = a.Towards(b, t / (t1 + t2));
                var bc = b.Towards(c, (t - t1) / (t2 + t3));
                curve[(i * Steps) + step] = ab.Towards(bc, (t - t1) / t2);
            }
        }

        return curve;
    }

    /// <summary>Area inside a polygon that doesn't cross itself, in square pixels.</summary>
    public static double Area(ReadOnlySpan<PixelPoint> polygon)
    {
        double twice = 0;
        for (var i = 0; i < polygon.Length; i++)
        {
            var (from, to) = (polygon[i], polygon[(i + 1) % polygon.Length]);
            twice += (from.X * to.Y) - (to.X * from.Y);
        }

        return Math.Abs(twice) / 2;
    }

    /// <summary>The way round a polygon, in pixels.</summary>
    public static double Perimeter(ReadOnlySpan<PixelPoint> polygon)
    {
        double sum = 0;
        for (var i = 0; i < polygon.Length; i++)
        {
            sum += polygon[i].DistanceTo(polygon[(i + 1) % polygon.Length]);
        }

        return sum;
    }

    /// <summary>The two corners of a polygon that lie farthest apart.</summary>
    public static (int From, int To) Farthest(ReadOnlySpan<PixelPoint> polygon)
    {
        var (best, pair) = (-1.0, (0, 0));
        for (var i = 0; i < polygon.Length; i++)
        {
            for (var j = i + 1; j < polygon.Length; j++)
            {
                var (dx, dy) = (polygon[i].X - polygon[j].X, polygon[i].Y - polygon[j].Y);
                if ((dx * dx) + (dy * dy) > best)
                {
                    (best, pair) = ((dx * dx) + (dy * dy), (i, j));
                }
            }
        }

        return pair;
    }

    /// <summary>How wide a polygon is along a direction, in pixels.</summary>
    public static double Extent(ReadOnlySpan<PixelPoint> polygon, PixelPoint direction)
    {
        var (low, high) = (double.MaxValue, double.MinValue);
        foreach (var point in polygon)
        {
            var along = (point.X * direction.X) + (point.Y * direction.Y);
            (low, high) = (Math.Min(low, along), Math.Max(high, along));
        }

        return high - low;
    }

    /// <summary>Two sides of a polygon that meet though they are no neighbours; null when there are none.</summary>
    public static (int One, int Other)? Crossing(ReadOnlySpan<PixelPoint> polygon)
    {
        var count = polygon.Length;
        for (var i = 0; i < count; i++)
        {
            for (var j = i + 2; j < count; j++)
            {
                if ((i > 0 || j < count - 1) && Meet(polygon[i], polygon[i + 1], polygon[j], polygon[(j + 1) % count]))
                {
                    return (i, j);
                }
            }
        }

        return null;
    }

    private static double Knot(PixelPoint from, PixelPoint to) => Math.Sqrt(from.DistanceTo(to));

    private static bool Meet(PixelPoint a, PixelPoint b, PixelPoint c, PixelPoint d)
    {
        var (abc, abd, cda, cdb) = (Turn(a, b, c), Turn(a, b, d), Turn(c, d, a), Turn(c, d, b));
        return (abc * abd < 0 && cda * cdb < 0)
            || (abc == 0 && Between(a, b, c)) || (abd == 0 && Between(a, b, d)) || (cda == 0 && Between(c, d, a)) || (cdb == 0 && Between(c, d, b));
    }

    private static double Turn(PixelPoint a, PixelPoint b, PixelPoint c) => ((b.X - a.X) * (c.Y - a.Y)) - ((b.Y - a.Y) * (c.X - a.X));

    private static bool Between(PixelPoint a, PixelPoint b, PixelPoint c) =>
        c.X >= Math.Min(a.X, b.X) && c.X <= Math.Max(a.X, b.X) && c.Y >= Math.Min(a.Y, b.Y) && c.Y <= Math.Max(a.Y, b.Y);
}
