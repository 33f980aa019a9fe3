namespace Secondpass.Phantoms.Anatomy;

/// <summary>A piece of a canal's content in the canal's own coordinates: a stretch of level, a sector of angle, a shell of radius.</summary>
/// <remarks>
/// Its outline over level and angle is an uneven ellipse, and it thins towards it where it lies on the wall. Angle is that of
/// the section's own ellipse, radius is 0 on the axis and 1 at the surface. With a half angle of π or more it goes all round:
/// a plug, whose ends stand aslant towards the middle angle.
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
    /// <summary>How far a patch reaches from its middle along y, in half heights.</summary>
    internal const double Reach = 1.4;

    /// <summary>Whether a place belongs to the patch.</summary>
    /// <param name="y">Level as y in mm.</param>
    /// <param name="angle">Angle in radians.</param>
    /// <param name="radius">Radius, 0 to 1.</param>
    public bool Holds(double y, double angle, double radius)
    {
        if (radius < FromRadius || radius > ToRadius || Math.Abs(y - CentreY) >= Reach * HalfHeight)
        {
            return false;
        }

        if (HalfAngle >= Math.PI)
        {
            // The ends of a plug stand aslant.
            var along = (y - CentreY) / HalfHeight;
            return Math.Abs(along - (0.4 * radius * Math.Cos(angle - CentreAngle))) < 1;
        }

        var up = (y - CentreY) / HalfHeight;
        if (up * up >= 1)
        {
            return false;
        }

        // The outline is uneven, and the patch thins towards it.
        var ripple = 1 + (0.25 * Math.Sin((7 * up) + (5 * CentreAngle)));
        var turn = Math.IEEERemainder(angle - CentreAngle, 2 * Math.PI) / (HalfAngle * ripple);
        var out2 = (up * up) + (turn * turn);
        return out2 < 1 && (ToRadius < 1 || radius >= FromRadius + ((1 - FromRadius) * 0.7 * out2));
    }

    /// <summary>Whether a place belongs to any of the patches.</summary>
    internal static bool AnyHolds(ReadOnlySpan<CanalPatch> patches, double y, double angle, double radius)
    {
        foreach (ref readonly var patch in patches)
        {
            if (patch.Holds(y, angle, radius))
            {
                return true;
            }
        }

        return false;
    }
}
