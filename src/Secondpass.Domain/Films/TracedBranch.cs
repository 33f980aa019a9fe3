using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Quantities;

namespace Secondpass.Domain.Films;

/// <summary>One traced canal branch with what was measured along it.</summary>
/// <param name="Name">The branch's name, such as <c>MB1</c>.</param>
/// <param name="Path">Centre line from the orifice of the trunk to the end of this branch.</param>
/// <param name="OwnFromPixels">Level at which the branch leaves its parent; 0 for a trunk. Before it the path is the parent's.</param>
/// <param name="Filling">Filling width along the whole path.</param>
/// <param name="Measures">Lengths, angles and signs.</param>
/// <param name="Branches">Branches that leave this one.</param>
public sealed record TracedBranch(
    string Name,
    CanalPath Path,
    double OwnFromPixels,
    FillingProfile Filling,
    BranchMeasures Measures,
    IReadOnlyList<TracedBranch> Branches)
{
    /// <summary>Distances from the filling's edges to the root's two surfaces, where these are clear and the root's own; empty without a scale.</summary>
    public IReadOnlyList<WallSample> Walls { get; init; } = [];

    /// <summary>Why there is nothing in <see cref="Walls"/>, in a sentence; null where there is.</summary>
    public string? WhyNoWalls { get; init; }

    /// <summary>Width of the canal where it holds no filling and the film shows its outline; empty elsewhere and without a scale.</summary>
    public IReadOnlyList<CanalWidthSample> CanalWidths { get; init; } = [];

    /// <summary>Why there is nothing in <see cref="CanalWidths"/>, in a sentence; null where there is.</summary>
    public string? WhyNoCanalWidth { get; init; }

    /// <summary>Where the canal's end was marked: the path may end beside it, on a filling. Null where it is not known.</summary>
    public PixelPoint? MarkedEnd { get; init; }

    /// <summary>How far the path may lie beside the canal's middle at each of its points: standard deviations in pixels; empty where it is not known.</summary>
    public IReadOnlyList<double> PathDeviationsPixels { get; init; } = [];

    /// <summary>Whether the path goes through the marks, because they run beside the filling that the film shows: then no filling beside it is taken for this canal's.</summary>
    public bool IsThroughMarks { get; init; }

    /// <summary>Whether another root's or tooth's outline lies over this root's along much of it.</summary>
    public bool IsOverlapped { get; init; }

    /// <summary>This branch and all below it, parents before children.</summary>
    public IEnumerable<TracedBranch> SelfAndBelow() => Branches.SelectMany(branch => branch.SelfAndBelow()).Prepend(this);
}

/// <summary>Lengths, angles and signs of something missed, along one branch as projected on the film.</summary>
/// <remarks>
/// Lengths run along the path from the orifice of the trunk. Members in millimetres are null when the film has no scale.
/// </remarks>
/// <param name="LengthPixels">Length of the path.</param>
/// <param name="Length">The same in mm.</param>
/// <param name="FilledLength">Length of path along which filling is seen, in mm.</param>
/// <param name="FilledPercent">The same as a share of the path's length, in percent; needs no scale.</param>
/// <param name="FillingEndToCanalEnd">From the end of the filling to the end of the canal in mm: short is positive, beyond is negative; null without a scale or a filling, or where another filling hides it.</param>
/// <param name="SchneiderDegrees">Angle after Schneider 1971; null where the path is too uncertain for it.</param>
/// <param name="Pruett">Angle and radius after Pruett, Clement and Carnes 1997, or why there are none.</param>
/// <param name="OffCentre">How far the filling lies off the middle of the root, or null where the root's surfaces were not found.</param>
/// <param name="Voids">Places where part of the filling's section is missing, from orifice to end; where another filling lies over it none can be told.</param>
public sealed record BranchMeasures(
    double LengthPixels,
    Estimate? Length,
    Estimate? FilledLength,
    double FilledPercent,
    Estimate? FillingEndToCanalEnd,
    Estimate? SchneiderDegrees,
    PruettCurve Pruett,
    OffCentreSign? OffCentre,
    IReadOnlyList<FillingVoid> Voids)
{
    /// <summary>The cone that the filling's widths near its end fit; null where too little of it is seen alone.</summary>
    public FillingCone? Cone { get; init; }

    /// <summary>Why there is no <see cref="Cone"/> although filling is seen, in a sentence; null otherwise.</summary>
    public string? WhyNoCone { get; init; }

    /// <summary>Share of the filled length that <see cref="Voids"/> take, in percent; 0 where there is none.</summary>
    public double VoidPercent => FilledPercent <= 0 ? 0 : Math.Min(100, 10_000 * Voids.Sum(gap => gap.ToPixels - gap.FromPixels) / (FilledPercent * LengthPixels));

    /// <summary>The longest of <see cref="Voids"/>; null where there is none.</summary>
    public FillingVoid? LongestVoid => Voids.Count == 0 ? null : Voids.MaxBy(gap => gap.ToPixels - gap.FromPixels);

    /// <summary>Why there is no <see cref="FillingEndToCanalEnd"/> although filling is seen and the film has a scale, in a sentence; null otherwise.</summary>
    public string? WhyNoFillingEnd { get; init; }

    /// <summary>Why there is no <see cref="SchneiderDegrees"/>, in a sentence; null when there is one.</summary>
    public string? WhyNoSchneider { get; init; }

    /// <summary>Why there is no <see cref="OffCentre"/>, in a sentence; null when there is one.</summary>
    public string? WhyNoOffCentre { get; init; }
}

/// <summary>Angle and radius of a canal's curve after Pruett, Clement and Carnes 1997.</summary>
/// <param name="AngleDegrees">Angle between the two straight parts; null when the canal is too straight for the method, or its path too uncertain.</param>
/// <param name="RadiusMillimetres">Radius of the circle that touches both, in mm; null when too straight, too uncertain or without a scale.</param>
/// <param name="WhyNone">Why there is no value, in a sentence; null when there is one.</param>
public sealed record PruettCurve(Estimate? AngleDegrees, Estimate? RadiusMillimetres, string? WhyNone);

/// <summary>How unequal the root is on the two sides of the filling: associated with an unfilled canal.</summary>
/// <param name="DifferenceMillimetres">Greatest steady difference between the distances from the filling's two edges to the two root surfaces, in mm, with interval.</param>
/// <param name="AtMillimetresFromEnd">The level at which it is found, in mm from the canal's end.</param>
/// <param name="IsSign">Whether it reaches the published 0.3 mm.</param>
/// <param name="WiderSideIsLeft">Whether the wider side lies left of the way from orifice to end, as the film is shown.</param>
public sealed record OffCentreSign(
    Estimate DifferenceMillimetres,
    double AtMillimetresFromEnd,
    bool IsSign,
    bool WiderSideIsLeft);

/// <summary>A place where part of the filling's section, or all of it, is missing.</summary>
/// <param name="FromPixels">Level at which it begins, in pixels from the orifice.</param>
/// <param name="ToPixels">Level at which it ends: along it at least half of its greatest loss is missing.</param>
/// <param name="WidthLostPixels">How much narrower a round filling would be that has lost as much, in pixels.</param>
/// <param name="MissingPercent">Greatest share of the section that is missing, in percent.</param>
public readonly record struct FillingVoid(double FromPixels, double ToPixels, double WidthLostPixels, Estimate MissingPercent)
{
    /// <summary>Its length in mm, with how the scale was found in its interval.</summary>
    /// <param name="scale">The film's scale.</param>
    public Estimate Length(Calibration scale)
    {
        ArgumentNullException.ThrowIfNull(scale);
        var value = (ToPixels - FromPixels) * scale.MillimetresPerPixel;
        return scale.Widened(new Estimate(value, new Interval(Math.Max(0, value - VoidFacts.LengthHalfInterval.Value), value + VoidFacts.LengthHalfInterval.Value)));
    }
}

/// <summary>Width of an unfilled canal at one level, as projected on the film.</summary>
/// <param name="LevelPixels">Pixels along the path from the orifice.</param>
/// <param name="WidthPixels">Its width with interval, in pixels.</param>
public readonly record struct CanalWidthSample(double LevelPixels, Estimate WidthPixels);

/// <summary>How far the root's two surfaces lie from the filling's edges at one level, as projected on the film.</summary>
/// <param name="LevelPixels">Pixels along the path from the orifice.</param>
/// <param name="LeftPixels">On the left of the way from orifice to end; null where the surface is not clear.</param>
/// <param name="RightPixels">On the right.</param>
public readonly record struct WallSample(double LevelPixels, double? LeftPixels, double? RightPixels)
{
    /// <summary>How much thinner a wall may be than it is read, in mm: a 95 % interval, measured on simulated films of seeds 3000 to 3029, where another root's surface was now and then taken for the root's.</summary>
    private const double ThinnerMillimetres = 0.55;

    /// <summary>How much thicker.</summary>
    private const double ThickerMillimetres = 0.15;

    /// <summary>A wall in mm, never below zero, with how the scale was found in its interval.</summary>
    /// <param name="wallPixels">One of the two distances.</param>
    /// <param name="scale">The film's scale.</param>
    public static Estimate InMillimetres(double wallPixels, Calibration scale)
    {
        ArgumentNullException.ThrowIfNull(scale);
        var wall = wallPixels * scale.MillimetresPerPixel;
        return scale.Widened(new Estimate(wall, new Interval(Math.Max(0, wall - ThinnerMillimetres), wall + ThickerMillimetres)));
    }
}
