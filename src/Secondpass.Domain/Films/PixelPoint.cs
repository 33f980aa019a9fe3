namespace Secondpass.Domain.Films;

/// <summary>A place on a film. (0, 0) is the centre of the top left pixel, x runs right, y runs down.</summary>
/// <param name="X">Columns from the centre of the leftmost pixel.</param>
/// <param name="Y">Rows from the centre of the topmost pixel.</param>
public readonly record struct PixelPoint(double X, double Y)
{
    /// <summary>Distance to another place, in pixels.</summary>
    public double DistanceTo(PixelPoint other) => double.Hypot(X - other.X, Y - other.Y);

    /// <summary>The place that is the given share of the way to another one; 0 is here, 1 is there.</summary>
    public PixelPoint Towards(PixelPoint other, double share) =>
        new(X + ((other.X - X) * share), Y + ((other.Y - Y) * share));

    /// <summary>Adds the parts.</summary>
    public static PixelPoint operator +(PixelPoint left, PixelPoint right) => new(left.X + right.X, left.Y + right.Y);

    /// <summary>Subtracts the parts.</summary>
    public static PixelPoint operator -(PixelPoint left, PixelPoint right) => new(left.X - right.X, left.Y - right.Y);

    /// <summary>Multiplies both parts.</summary>
    public static PixelPoint operator *(PixelPoint point, double factor) => new(point.X * factor, point.Y * factor);
}
