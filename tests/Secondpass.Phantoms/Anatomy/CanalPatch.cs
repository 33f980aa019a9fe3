namespace Secondpass.Phantoms.Anatomy;

/// <summary>A piece of a canal's content in the canal's own coordinates: a stretch of level, a sector of angle, a shell of radius.</summary>
/// <remarks>
/// Its outline over level and angle is an ellipse, so it tapers off to all sides. Angle is that of the section's own ellipse,
/// radius is 0 on the axis and 1 at the surface. A half angle of π or more with an inner radius of 0 is a plug.
/// </remarks>
/// <param name="CentreY">Level of its middle, as y in mm.</param>
/// <param name="HalfHeight">Half its height along y in mm.</param>
/// <param name="CentreAngle">Angle of its middle in radians.</param>
/// <param name="HalfAngle">Half its opening in radians; at least π for all round.</param>
/// <param name="FromRadius">Inner radius, 0 to 1.</param>
/// <param name="ToRadius">Outer radius, 0 to 1.</param>
public readonly record struct CanalPatch(
    double CentreY,
    double HalfHeight,
    double CentreAngle,
    double HalfAngle,
    double FromRadius,
    double ToRadius)
{
    /// <summary>Whether a place belongs to the patch.</summary>
    /// <param name="y">Level as y in mm.</param>
    /// <param name="angle">Angle in radians.</param>
    /// <param name="radius">Radius, 0 to 1.</param>
    public bool Holds(double y, double angle, double radius)
    {
        var up = (y - CentreY) / HalfHeight;
        if (up * up >= 1 || radius < FromRadius || radius > ToRadius)
        {
            return false;
        }

        if (HalfAngle >= Math.PI)
        {
            return true;
        }

        var turn = Math.IEEERemainder(angle - CentreAngle, 2 * Math.PI) / HalfAngle;
        return (up * up) + (turn * turn) < 1;
    }
}
