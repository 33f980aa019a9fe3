using Secondpass.Domain.Films;
using Secondpass.Radiographs.Read;
using Secondpass.Radiographs.Straighten;

namespace Secondpass.Tests.Radiographs.Straighten;

/// <summary>A film of 31 × 41 mm, photographed askew, with two dark dots 20 mm apart on it.</summary>
internal static class PhotographOfFilm
{
    public const double Width = 31;
    public const double Height = 41;

    /// <summary>Optical density of the film, and of its dots.</summary>
    public const double Density = 0.5;

    public const double DotDensity = 1.5;

    public static readonly (double X, double Y) Upper = (9, 10);

    public static readonly (double X, double Y) Lower = (21, 26);

    /// <summary>Seen from one side and from below: no two sides are parallel.</summary>
    public static PixelPoint[] Corners { get; } = [new(120, 90), new(640, 60), new(700, 850), new(60, 760)];

    /// <summary>The photograph, as a PNG file of 16 bits, its light encoded as a camera does.</summary>
    public static byte[] File()
    {
        const int columns = 800, rows = 920;
        var map = PerspectiveMap.ToCorners(Width, Height, Corners);
        var pixels = new ushort[columns * rows];
        for (var i = 0; i < pixels.Length; i++)
        {
            var (x, y) = map.Of(new PixelPoint(i % columns, i / columns));
            pixels[i] = (ushort)Math.Round(ushort.MaxValue * CameraLight.Encoded(Math.Pow(10, -DensityAt(x, y))), MidpointRounding.AwayFromZero);
        }

        return GreyPng.Write(columns, pixels, 3000, [.. "Comment\0a photograph"u8]);
    }

    /// <summary>Centre of what is darker than the middle between film and dots, on one half of a film, in pixels.</summary>
    public static PixelPoint Dot(Radiograph film, bool upper)
    {
        double x = 0, y = 0, sum = 0;
        var middle = 0.5 * (Grey(Density) + Grey(DotDensity));
        for (var i = 0; i < film.Pixels.Length; i++)
        {
            var (column, row) = (i % film.Width, i / film.Width);
            if (row < film.Height * 0.43 == upper && film.Pixels[i] < middle)
            {
                (x, y, sum) = (x + column, y + row, sum + 1);
            }
        }

        return new PixelPoint(x / sum, y / sum);
    }

    public static double Grey(double density) => ushort.MaxValue * (1 - (density / 3));

    private static double DensityAt(double x, double y) => x is < 0 or > Width || y is < 0 or > Height
        ? 0.02
        : double.Hypot(x - Upper.X, y - Upper.Y) < 1.5 || double.Hypot(x - Lower.X, y - Lower.Y) < 1.5 ? DotDensity : Density;
}
