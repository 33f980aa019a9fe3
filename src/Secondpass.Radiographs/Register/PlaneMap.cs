using Secondpass.Domain.Films;

namespace Secondpass.Radiographs.Register;

/// <summary>A map of the plane: x' = A·x + B·y + C, y' = D·x + E·y + F, in pixels.</summary>
internal readonly record struct PlaneMap(double A, double B, double C, double D, double E, double F)
{
    public static PlaneMap Identity { get; } = new(1, 0, 0, 0, 1, 0);

    /// <summary>Turns by an angle and enlarges about one place, which goes to another.</summary>
    public static PlaneMap Turning(double radians, double factor, PixelPoint about, PixelPoint to)
    {
        var cosine = factor * Math.Cos(radians);
        var sine = factor * Math.Sin(radians);
        return new PlaneMap(
            cosine,
            -sine,
            to.X - (cosine * about.X) + (sine * about.Y),
            sine,
            cosine,
            to.Y - (sine * about.X) - (cosine * about.Y));
    }

    /// <summary>Where a place goes.</summary>
    public PixelPoint Of(PixelPoint place) => new((A * place.X) + (B * place.Y) + C, (D * place.X) + (E * place.Y) + F);

    /// <summary>This map first, then the other.</summary>
    public PlaneMap Then(PlaneMap next) => new(
        (next.A * A) + (next.B * D),
        (next.A * B) + (next.B * E),
        (next.A * C) + (next.B * F) + next.C,
        (next.D * A) + (next.E * D),
        (next.D * B) + (next.E * E),
        (next.D * C) + (next.E * F) + next.F);

    /// <summary>The map back; the map must not squash the plane flat.</summary>
    public PlaneMap Back()
    {
        var determinant = Area;
        var a = E / determinant;
        var b = -B / determinant;
        var d = -D / determinant;
        var e = A / determinant;
        return new PlaneMap(a, b, -((a * C) + (b * F)), d, e, -((d * C) + (e * F)));
    }

    /// <summary>By how much areas grow; negative when the map mirrors.</summary>
    public double Area => (A * E) - (B * D);

    /// <summary>By how much lengths grow on average.</summary>
    public double Factor => Math.Sqrt(Math.Abs(Area));

    /// <summary>The mean turn in degrees.</summary>
    public double TurnDegrees => Math.Atan2(D - B, A + E) * 180 / Math.PI;

    /// <summary>The least change of length over the greatest: 1 for a map that keeps shapes.</summary>
    public double Evenness
    {
        get
        {
            var sum = (A * A) + (B * B) + (D * D) + (E * E);
            var root = Math.Sqrt(Math.Max(0, (sum * sum) - (4 * Area * Area)));
            return Math.Sqrt(Math.Max(0, (sum - root) / (sum + root)));
        }
    }

    /// <summary>The same map between shrunken images, whose pixel centres lie at (factor − 1)/2 + factor·index.</summary>
    public PlaneMap Shrunk(int factor)
    {
        var half = (factor - 1) / 2.0;
        var up = new PlaneMap(factor, 0, half, 0, factor, half);
        return up.Then(this).Then(up.Back());
    }

    /// <summary>The nine numbers row by row, the last 1.</summary>
    public double[] Matrix() => [A, B, C, D, E, F, 0, 0, 1];

    /// <summary>The map that turns, enlarges evenly and shifts, of least squares through at least two pairs of places (Umeyama, IEEE Trans Pattern Anal Mach Intell 1991;13:376–380).</summary>
    public static PlaneMap Through(IReadOnlyList<(PixelPoint From, PixelPoint To)> pairs)
    {
        var from = Middle(pairs.Select(pair => pair.From));
        var to = Middle(pairs.Select(pair => pair.To));
        double spread = 0, along = 0, across = 0;
        foreach (var (f, t) in pairs)
        {
            var u = f - from;
            var v = t - to;
            spread += (u.X * u.X) + (u.Y * u.Y);
            along += (u.X * v.X) + (u.Y * v.Y);
            across += (u.X * v.Y) - (u.Y * v.X);
        }

        var radians = Math.Atan2(across, along);
        var factor = spread > 0 ? double.Hypot(along, across) / spread : 1;
        return Turning(radians, factor, from, to);
    }

    private static PixelPoint Middle(IEnumerable<PixelPoint> places)
    {
        double x = 0, y = 0;
        var count = 0;
        foreach (var place in places)
        {
            x += place.X;
            y += place.Y;
            count++;
        }

        return new PixelPoint(x / count, y / count);
    }
}
