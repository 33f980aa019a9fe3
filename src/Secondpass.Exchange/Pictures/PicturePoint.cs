namespace Secondpass.Exchange.Pictures;

/// <summary>A place on a <see cref="Picture"/>, in its units. Not a place on a film.</summary>
/// <param name="X">Units from the left edge.</param>
/// <param name="Y">Units from the top edge, down.</param>
public readonly record struct PicturePoint(double X, double Y)
{
    internal PicturePoint Moved(double factor, double dx, double dy) => new((X * factor) + dx, (Y * factor) + dy);
}
