using Secondpass.Domain.Quantities;

namespace Secondpass.Domain.Films;

/// <summary>What is left of the old filling, branch by branch, read from a film before and a film after.</summary>
/// <remarks>
/// Says what these two films show, never what is proven: residue smaller than the detection limit, or hidden behind
/// something dense, is not seen. All shares are unclipped estimates; a screen clips them to 0–100.
/// </remarks>
/// <param name="Registration">How the film after was laid over the film before.</param>
/// <param name="Branches">Results in the order of the traced branches, parents before children.</param>
/// <param name="Drawing">The picture, drawn when it is first asked for: many answers are read without it.</param>
/// <param name="Notices">What the dentist should know about this pair, in sentences.</param>
public sealed record Comparison(
    FilmRegistration Registration,
    IReadOnlyList<BranchResidue> Branches,
    Lazy<ComparisonPicture> Drawing,
    IReadOnlyList<string> Notices)
{
    /// <summary>New radiopaque patches outside the old filling, the largest first; empty where none is seen.</summary>
    public IReadOnlyList<MovedMaterial> Moved { get; init; } = [];

    /// <summary>The film after in the frame of the film before, and where residue was seen.</summary>
    public ComparisonPicture Picture => Drawing.Value;
}

/// <summary>How the film after lies over the film before.</summary>
/// <param name="AfterToBefore">
/// Nine numbers, row by row, of the matrix that takes [x, y, 1] of the film after to the film before; the last is 1.
/// The global part only: branches are corrected further by their own displacement.
/// </param>
/// <param name="SelfRmsPixels">
/// How far, by its own check, the registration is off along the canals: root mean square of what neighbouring
/// patches disagree by after correction, in pixels of the film before.
/// </param>
/// <param name="InvertedAfter">Whether the film after is inverted relative to the film before.</param>
/// <param name="SharedPercent">Share of the film before's tooth region that the film after shows too, in percent.</param>
public sealed record FilmRegistration(
    IReadOnlyList<double> AfterToBefore,
    double SelfRmsPixels,
    bool InvertedAfter,
    double SharedPercent);

/// <summary>The three equal lengths of a canal from orifice to end.</summary>
public enum CanalThird
{
    /// <summary>Next to the crown.</summary>
    Coronal,

    /// <summary>Between the two others.</summary>
    Middle,

    /// <summary>Next to the canal's end.</summary>
    Apical,
}

/// <summary>Tells the thirds of a canal.</summary>
public static class CanalThirds
{
    /// <summary>The third that a level lies in; what lies above the orifice or beyond the end counts to the nearest.</summary>
    /// <param name="levelPixels">Level on the path, in pixels from the orifice.</param>
    /// <param name="lengthPixels">The path's length in pixels, positive.</param>
    public static CanalThird Of(double levelPixels, double lengthPixels) => (CanalThird)Math.Clamp((int)(3 * levelPixels / lengthPixels), 0, 2);
}

/// <summary>What is left over one length of canal, as shares of what was there before.</summary>
/// <param name="AreaPercent">
/// Projected area of residue at least 0.10 mm thick along the ray, as % of the area that the filling held at least as thick before; null with <paramref name="WhyNoArea"/>.
/// </param>
/// <param name="MassPercent">Radiopaque mass left as % of the mass before; null with <paramref name="WhyNoMass"/>.</param>
/// <param name="WhyNoArea">Why there is no area, in a sentence.</param>
/// <param name="WhyNoMass">Why there is no mass, in a sentence.</param>
public sealed record ResidueShare(
    Estimate? AreaPercent,
    Estimate? MassPercent,
    string? WhyNoArea = null,
    string? WhyNoMass = null);

/// <summary>Where a point of a canal is found on the film after.</summary>
/// <param name="LevelPixels">Level on the film before, in pixels from the orifice.</param>
/// <param name="Dx">Column on the film after minus column on the film before, in pixels.</param>
/// <param name="Dy">Row on the film after minus row on the film before, in pixels.</param>
public readonly record struct Displacement(double LevelPixels, double Dx, double Dy);

/// <summary>What is left in one branch.</summary>
/// <remarks>Covers the branch's own part: what it shares with its trunk is counted with the trunk, once.</remarks>
/// <param name="Branch">The traced branch, with path and filling before.</param>
/// <param name="Refused">Why this branch has no result; null when it has one.</param>
/// <param name="Whole">The whole branch; null when refused.</param>
/// <param name="Thirds">
/// Each third of the way from orifice to end, over the branch's own part. A third without filling before is missing
/// from the dictionary: there is nothing to be left of.
/// </param>
/// <param name="Displacements">Where its points are found on the film after; empty when refused.</param>
/// <param name="DetectionLimitSquarePixels">The smallest patch of residue that this pair could show, in square pixels of the film before.</param>
/// <param name="OverlapShare">Share of the branch's filling, 0 to 1, that lies over another branch's filling on the film.</param>
/// <param name="Strip">Residue along the branch, for the canal strip; empty when refused.</param>
public sealed record BranchResidue(
    TracedBranch Branch,
    Refusal? Refused,
    ResidueShare? Whole,
    IReadOnlyDictionary<CanalThird, ResidueShare> Thirds,
    IReadOnlyList<Displacement> Displacements,
    double DetectionLimitSquarePixels,
    double OverlapShare,
    IReadOnlyList<StripSample> Strip);

/// <summary>What was there and what is left at one level of a branch, for drawing.</summary>
/// <param name="LevelPixels">Level on the path, in pixels from the orifice.</param>
/// <param name="FillingWidthPixels">Width of the filling before, in pixels; 0 where there was none.</param>
/// <param name="ResidueFromPixels">Left edge of the residue across the path, in pixels from the path, negative to the right; equal to the other edge where none is seen.</param>
/// <param name="ResidueToPixels">Other edge of the residue.</param>
/// <param name="MassLeftShare">Share of the mass at this level that is left, unclipped.</param>
/// <param name="CannotTell">Whether these films cannot tell about the rest of the filling's width at this level: then no residue seen does not mean cleared.</param>
public readonly record struct StripSample(
    double LevelPixels,
    double FillingWidthPixels,
    double ResidueFromPixels,
    double ResidueToPixels,
    double MassLeftShare,
    bool CannotTell);

/// <summary>Pictures for the eye, in the frame of the film before. Nothing is measured on them.</summary>
/// <param name="Width">Columns, those of the film before.</param>
/// <param name="Height">Rows, those of the film before.</param>
/// <param name="AlignedAfter">The film after, moved and matched in grey, row by row; 0 where it shows nothing.</param>
/// <param name="Residue">One of <see cref="ResidueClass"/> per pixel, row by row.</param>
public sealed record ComparisonPicture(int Width, int Height, ushort[] AlignedAfter, byte[] Residue);

/// <summary>What a pixel of the comparison's picture stands for.</summary>
public enum ResidueClass
{
    /// <summary>No filling here before.</summary>
    Outside = 0,

    /// <summary>Filling before, none seen after.</summary>
    Cleared = 1,

    /// <summary>Residue at least 0.10 mm thick is seen.</summary>
    Left = 2,

    /// <summary>Filling before; these films cannot tell.</summary>
    Unclear = 3,

    /// <summary>Residue is seen, in a patch smaller than these films can show for sure; only told apart for drawing.</summary>
    BelowLimit = 4,
}
