using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;

namespace Secondpass.Accuracy;

/// <summary>Two simulated films, what a person marked on them, and what is true of them.</summary>
/// <param name="Name">Generator and seed.</param>
/// <param name="AngleDegrees">Angle between the two beams.</param>
/// <param name="Request">Films and marks.</param>
/// <param name="Branches">What is true of each branch that held filling.</param>
internal sealed record KnownPair(string Name, double AngleDegrees, ComparisonRequest Request, IReadOnlyList<KnownBranch> Branches)
{
    /// <summary>Whether the film before has 8 bits a pixel.</summary>
    public bool IsEightBit => Request.Before.GreatestValue <= 255;
}

/// <summary>What is true of one branch.</summary>
/// <param name="Name">The branch.</param>
/// <param name="OverlapShare">Share of its filling's projected area that lies over another branch's filling.</param>
/// <param name="Whole">What is left of its own part.</param>
/// <param name="Thirds">The same by third; a third without filling before is missing.</param>
/// <param name="Path">Its true centre line on the film before.</param>
/// <param name="MovedAt">Place on the film after minus place on the film before, in pixels, at a level of that line; null where the truth says nothing.</param>
internal sealed record KnownBranch(
    string Name,
    double OverlapShare,
    KnownShare Whole,
    IReadOnlyDictionary<CanalThird, KnownShare> Thirds,
    CanalPath Path,
    Func<double, PixelPoint?> MovedAt);

/// <summary>What is truly left, in percent.</summary>
/// <param name="Mass">Of the filling's volume before.</param>
/// <param name="Area">Residue at least 0.10 mm thick along the ray, of the filling's area at least as thick before.</param>
/// <param name="IsSlight">Whether the part held next to nothing of the filling before: under a twentieth of its area.</param>
internal readonly record struct KnownShare(double Mass, double Area, bool IsSlight);
