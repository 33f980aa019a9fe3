using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;

namespace Secondpass.Tests.Radiographs;

/// <summary>A film of nothing but a round rod along a known line on an even ground: the plainest truth there is.</summary>
internal static class RodFilm
{
    /// <summary>Draws rods.</summary>
    /// <param name="width">Columns.</param>
    /// <param name="height">Rows.</param>
    /// <param name="noise">Standard deviation of the noise in grey levels.</param>
    /// <param name="rods">Each rod's line with its radius in pixels at a level given in pixels from the line's start; 0 where there is none.</param>
    /// <param name="inverted">Whether more radiopaque is darker.</param>
    public static Radiograph Draw(int width, int height, double noise, bool inverted, params (CanalPath Line, Func<double, double> Radius)[] rods) =>
        DrawDense(width, height, noise, inverted, [.. rods.Select(rod => (rod.Line, rod.Radius, FillingDensity))]);

    /// <summary>What a filling adds in grey levels per pixel of its thickness.</summary>
    public const double FillingDensity = 400;

    /// <summary>Draws rods of several densities: roots, fillings in them, and canals without, which take away from what they lie in.</summary>
    /// <param name="width">Columns.</param>
    /// <param name="height">Rows.</param>
    /// <param name="noise">Standard deviation of the noise in grey levels.</param>
    /// <param name="inverted">Whether more radiopaque is darker.</param>
    /// <param name="rods">As in <see cref="Draw"/>, each with what it adds in grey levels per pixel of its thickness.</param>
    public static Radiograph DrawDense(int width, int height, double noise, bool inverted, params (CanalPath Line, Func<double, double> Radius, double Density)[] rods)
    {
        var random = new Random(7);
        var values = new double[width * height];
        for (var i = 0; i < values.Length; i++)
        {
            values[i] = 20000 + (4.0 * (i / width)) + (2.0 * (i % width)) + (noise * Normal(random));
        }

        foreach (var (line, radius, density) in rods)
        {
            var thickness = new double[width * height];
            for (var level = 0.0; level <= line.LengthPixels; level += 0.25)
            {
                var r = radius(level);
                if (r <= 0)
                {
                    continue;
                }

                var at = line.At(level);
                var along = line.DirectionAt(level);
                for (var offset = -r - 1; offset <= r + 1; offset += 0.25)
                {
                    var x = (int)Math.Round(at.X + (along.Y * offset), MidpointRounding.AwayFromZero);
                    var y = (int)Math.Round(at.Y - (along.X * offset), MidpointRounding.AwayFromZero);
                    if (x >= 0 && y >= 0 && x < width && y < height)
                    {
                        // The pixel's own distance from the line, not the sample's.
                        var dx = x - at.X;
                        var dy = y - at.Y;
                        var d = Math.Abs((dx * along.Y) - (dy * along.X));
                        thickness[(y * width) + x] = Math.Max(thickness[(y * width) + x], d < r ? 2 * Math.Sqrt((r * r) - (d * d)) : 0);
                    }
                }
            }

            for (var i = 0; i < values.Length; i++)
            {
                values[i] += density * thickness[i];
            }
        }

        var pixels = new ushort[width * height];
        for (var i = 0; i < pixels.Length; i++)
        {
            var value = Math.Clamp(values[i], 0, 65535);
            pixels[i] = (ushort)(inverted ? 65535 - value : value);
        }

        return new Radiograph(width, height, pixels, 65535, FilmFormat.Simulated, new string('0', 64));
    }

    /// <summary>Two marks, at the ends of a line.</summary>
    /// <param name="name">The canal's name.</param>
    /// <param name="line">The line.</param>
    public static CanalClicks Marks(string name, CanalPath line) => new(name, [new Pin(line.Points[0], PinStrength.Soft), new Pin(line.Points[^1], PinStrength.Soft)], []);

    /// <summary>A straight part of the given length downwards from a place, then an arc, then straight again.</summary>
    /// <param name="from">First place.</param>
    /// <param name="straight">Length of the straight part in pixels.</param>
    /// <param name="radius">Radius of the arc in pixels.</param>
    /// <param name="turnDegrees">Angle of the arc.</param>
    /// <param name="after">Length of the second straight part.</param>
    public static CanalPath StraightArcStraight(PixelPoint from, double straight, double radius, double turnDegrees, double after)
    {
        var points = new List<PixelPoint>();
        for (var s = 0.0; s < straight; s += 0.5)
        {
            points.Add(from + new PixelPoint(0, s));
        }

        var turn = turnDegrees * Math.PI / 180;
        var corner = from + new PixelPoint(0, straight);
        var steps = (int)(radius * turn / 0.5);
        for (var i = 0; i <= steps; i++)
        {
            var a = turn * i / Math.Max(1, steps);
            points.Add(corner + new PixelPoint(radius * (1 - Math.Cos(a)), radius * Math.Sin(a)));
        }

        var last = points[^1];
        for (var s = 0.5; s <= after; s += 0.5)
        {
            points.Add(last + new PixelPoint(Math.Sin(turn) * s, Math.Cos(turn) * s));
        }

        return new CanalPath(points);
    }

    private static double Normal(Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
