using Secondpass.Domain.Anatomy;

namespace Secondpass.Domain.Films;

/// <summary>The same thing marked on both films, to help them find each other.</summary>
/// <param name="OnBefore">Its place on the film before.</param>
/// <param name="OnAfter">Its place on the film after.</param>
public readonly record struct LandmarkPair(PixelPoint OnBefore, PixelPoint OnAfter);

/// <summary>Everything that a comparison of two films starts from.</summary>
/// <param name="Before">The film before removal.</param>
/// <param name="After">The film after or during removal.</param>
/// <param name="BeforeScale">Scale of the film before; null when unknown: then shares are given, areas in mm² are not.</param>
/// <param name="AfterScale">Scale of the film after when it is known to differ; null lets the films find it.</param>
/// <param name="Canals">The canals, marked on the film before.</param>
/// <param name="State">What stands in the canals on the film after.</param>
/// <param name="StateOfBranch">Branches, by name, where something else stands than <paramref name="State"/>.</param>
/// <param name="Landmarks">Marks seen on both films; empty, or at least two.</param>
public sealed record ComparisonRequest(
    Radiograph Before,
    Radiograph After,
    Calibration? BeforeScale,
    Calibration? AfterScale,
    IReadOnlyList<CanalClicks> Canals,
    AfterState State,
    IReadOnlyDictionary<string, AfterState> StateOfBranch,
    IReadOnlyList<LandmarkPair> Landmarks)
{
    /// <summary>What stands in one branch on the film after.</summary>
    public AfterState StateOf(string branch) => StateOfBranch.GetValueOrDefault(branch, State);
}
