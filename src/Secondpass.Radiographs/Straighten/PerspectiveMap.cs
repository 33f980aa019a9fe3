using Secondpass.Domain.Films;

namespace Secondpass.Radiographs.Straighten;

/// <summary>The projective map from a flat rectangle to a photograph of it: places in mm to places in pixels.</summary>
/// <remarks>
/// x = (A·X + B·Y + C) / (G·X + H·Y + 1) and likewise y. Four corners determine it; the closed form is that of P. Heckbert,
/// Fundamentals of Texture Mapping and Image Warping, Berkeley 1989, 2.2.3 (square to quadrilateral). A lens that bends straight
/// lines is no such map.
/// </remarks>
internal readonly record struct PerspectiveMap(double A, double B, double C, double D, double E, double F, double G, double H)
{
    /// <summary>The map that takes a rectangle's corners to four places.</summary>
    /// <param name="width">Width of the rectangle, in mm.</param>
    /// <param name="height">Height, in mm.</param>
    /// <param name="corners">Where its corners (0, 0), (width, 0), (width, height), (0, height) are; no three on a line.</param>
    public static PerspectiveMap ToCorners(double width, double height, IReadOnlyList<PixelPoint> corners)
    {
        var (first, second, third, fourth) = (corners[0], corners[1], corners[2], corners[3]);
        var one = second - third;
        var other = fourth - third;
        var rest = first - second + third - fourth;
        var area = Cross(one, other);
        var g = Cross(rest, other) / area;
        var h = Cross(one, rest) / area;
        return new PerspectiveMap(
            (second.X - first.X + (g * second.X)) / width,
            (fourth.X - first.X + (h * fourth.X)) / height,
            first.X,
            (second.Y - first.Y + (g * second.Y)) / width,
            (fourth.Y - first.Y + (h * fourth.Y)) / height,
            first.Y,
            g / width,
            h / height);
    }

    /// <summary>Where a place of the rectangle, in mm, is seen.</summary>
    public PixelPoint Seen(double x, double y)
    {
        var depth = (G * x) + (H * y) + 1;
        return new PixelPoint(((A * x) + (B * y) + C) / depth, ((D * x) + (E * y) + F) / depth);
    }

    /// <summary>The place of the rectangle, X and Y in mm, that is seen somewhere.</summary>
    public (double X, double Y) Of(PixelPoint seen)
    {
        // The inverse is the matrix of cofactors, up to a factor that drops out.
        var x = (((E - (F * H)) * seen.X) + (((C * H) - B) * seen.Y) + ((B * F) - (C * E)));
        var y = ((((F * G) - D) * seen.X) + ((A - (C * G)) * seen.Y) + ((C * D) - (A * F)));
        var depth = ((((D * H) - (E * G)) * seen.X) + (((B * G) - (A * H)) * seen.Y) + ((A * E) - (B * D)));
        return (x / depth, y / depth);
    }

    private static double Cross(PixelPoint one, PixelPoint other) => (one.X * other.Y) - (other.X * one.Y);
}
