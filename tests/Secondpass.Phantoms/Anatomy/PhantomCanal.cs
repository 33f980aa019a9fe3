namespace Secondpass.Phantoms.Anatomy;

/// <summary>One canal branch of a simulated tooth: the space, and the old filling in it.</summary>
/// <remarks>
/// A child begins inside its parent; what both would hold belongs to the parent, so that it counts once.
/// All y as in the tooth's frame, in mm from the neck towards the apex.
/// </remarks>
/// <param name="Name">Anatomical name, such as MB1.</param>
/// <param name="Parent">Name of the branch that it leaves, or null.</param>
/// <param name="Root">Name of its root.</param>
/// <param name="Lumen">The space, from orifice (or split) to the canal's end.</param>
/// <param name="OrificeY">y of the orifice of the trunk.</param>
/// <param name="Filling">The old filling without its voids, inside the lumen except for what was pressed beyond the end; null when unfilled.</param>
/// <param name="Voids">Pieces missing from the filling.</param>
public sealed record PhantomCanal(
    string Name,
    string? Parent,
    string Root,
    Column Lumen,
    double OrificeY,
    Column? Filling,
    IReadOnlyList<CanalPatch> Voids)
{
    /// <summary>y where this branch leaves its parent; its orifice for a trunk.</summary>
    public double OwnFromY => Lumen.FromY;

    /// <summary>y of the canal's end.</summary>
    public double EndY => Lumen.ToY;

    /// <summary>Whether the last treatment filled it.</summary>
    public bool IsFilled => Filling is not null;
}
