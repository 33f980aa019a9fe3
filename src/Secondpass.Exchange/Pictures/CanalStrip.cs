using Secondpass.Domain.Films;

namespace Secondpass.Exchange.Pictures;

/// <summary>Draws a canal branch straightened: lying along a scale from its orifice on the left to its end on the right.</summary>
/// <remarks>
/// Line and hatching, no colour. What lies left of the way from orifice to end on the film lies above the middle line. Widths
/// are drawn larger than lengths by the factor written on the strip. Drawn to be read at 600 pixels and at 80 mm in print.
/// </remarks>
public static class CanalStrip
{
    /// <summary>Width of every strip, in the picture's units.</summary>
    public const double Width = 480;

    /// <summary>What is left in a branch: filling before, residue, and where the films can't tell.</summary>
    /// <param name="residue">The branch; where it is refused, its filling before and the reason are shown.</param>
    /// <param name="scale">Scale of the film before; null when unknown: then the scale counts pixels.</param>
    public static Picture Draw(BranchResidue residue, Calibration? scale)
    {
        ArgumentNullException.ThrowIfNull(residue);
        return DrawAll([residue], scale)[0];
    }

    /// <summary>The measurement of a branch: its filling, and nothing of what is left.</summary>
    /// <param name="branch">The branch.</param>
    /// <param name="scale">Scale of the film; null when unknown: then the scale counts pixels.</param>
    public static Picture Draw(TracedBranch branch, Calibration? scale)
    {
        ArgumentNullException.ThrowIfNull(branch);
        return DrawAll([branch], scale)[0];
    }

    /// <summary>What is left in several branches, on one scale of length and width, so that they compare.</summary>
    /// <param name="residues">The branches.</param>
    /// <param name="scale">Scale of the film before; null when unknown.</param>
    /// <returns>A strip for each branch, in the same order.</returns>
    public static IReadOnlyList<Picture> DrawAll(IReadOnlyList<BranchResidue> residues, Calibration? scale)
    {
        ArgumentNullException.ThrowIfNull(residues);
        return DrawAll(residues, scale, int.MaxValue);
    }

    /// <summary>As <see cref="DrawAll(IReadOnlyList{BranchResidue}, Calibration)"/>, with at most so many lines of words beside a name: the rest is cut.</summary>
    internal static IReadOnlyList<Picture> DrawAll(IReadOnlyList<BranchResidue> residues, Calibration? scale, int greatestLines) =>
        DrawAll([.. residues.Select(residue => StripContent.Of(residue, scale))], scale, greatestLines);

    /// <summary>The measurements of several branches, on one scale of length and width.</summary>
    /// <param name="branches">The branches.</param>
    /// <param name="scale">Scale of the film; null when unknown.</param>
    /// <returns>A strip for each branch, in the same order.</returns>
    public static IReadOnlyList<Picture> DrawAll(IReadOnlyList<TracedBranch> branches, Calibration? scale)
    {
        ArgumentNullException.ThrowIfNull(branches);
        return DrawAll([.. branches.Select(StripContent.Of)], scale, int.MaxValue);
    }

    /// <summary>What the lines and hatchings of strips mean.</summary>
    public static Picture Legend() => StripSketch.Legend();

    private static List<Picture> DrawAll(List<StripContent> contents, Calibration? scale, int greatestLines)
    {
        var frame = StripFrame.For(contents);
        return [.. contents.Select(content => new StripSketch(content, frame, scale, greatestLines).Draw())];
    }
}
