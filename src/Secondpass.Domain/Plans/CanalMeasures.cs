using System.Globalization;
using Secondpass.Domain.Quantities;

namespace Secondpass.Domain.Plans;

/// <summary>What is known of one canal's size for planning. Every part may be missing: what was not measured is not guessed.</summary>
/// <param name="PathLength">From orifice to end along the canal; null when not measured.</param>
/// <param name="Widths">Widths by level; empty when not measured.</param>
/// <param name="Walls">Walls by level and side; empty when not measured.</param>
/// <param name="Schneider">Angle after Schneider as projected; null when not measured.</param>
public sealed record CanalMeasures(
    Millimetres? PathLength,
    IReadOnlyList<WidthAtLevel> Widths,
    IReadOnlyList<WallAtLevel> Walls,
    Degrees? Schneider)
{
    /// <summary>Nothing measured.</summary>
    public static CanalMeasures None { get; } = new(null, [], [], null);

    /// <summary>Levels from the end, in mm, where the film shows its filling and that of a branch beside it as one, so that no width of its own was read; null for none.</summary>
    public Interval? SeenAsOneMillimetres { get; init; }
}

/// <summary>Width of a canal and of its filling at one level.</summary>
/// <param name="FromEnd">Level from the canal's end.</param>
/// <param name="Filling">Width of the filling; null where none is seen.</param>
/// <param name="Canal">Width of the canal; null where it was not measured: then the filling's width stands for it, and the dentine cut is an upper estimate.</param>
public readonly record struct WidthAtLevel(Millimetres FromEnd, Millimetres? Filling, Millimetres? Canal);

/// <summary>How a wall was read.</summary>
public enum WallSource
{
    /// <summary>On a film: root outline minus filling edge.</summary>
    Film,

    /// <summary>On a section of a cone-beam scan, typed.</summary>
    ConeBeamScan,
}

/// <summary>Wall of dentine as it is now, at one level on one side.</summary>
/// <param name="FromEnd">Level from the canal's end.</param>
/// <param name="Side">The side, in words.</param>
/// <param name="Measured">Thickness as measured.</param>
/// <param name="Allowance">What is taken off it for a concavity that a film doesn't show; zero where none is.</param>
/// <param name="Source">How it was read.</param>
public readonly record struct WallAtLevel(Millimetres FromEnd, string Side, Millimetres Measured, Millimetres Allowance, WallSource Source)
{
    /// <summary>What a plan counts with: measured less the allowance, never below zero.</summary>
    public Millimetres Counted => new(Math.Max(0, Measured.Value - Allowance.Value));
}

/// <summary>What the dentist set for one canal.</summary>
/// <param name="NoDeeperThan">No instrument deeper than this from the reference point; null for none.</param>
/// <param name="Final">Planned final size; null when not set.</param>
public sealed record CanalChoice(Millimetres? NoDeeperThan, FinalSize? Final);

/// <summary>What the dentist set for a plan.</summary>
/// <param name="Canals">What was set canal by canal, by name; a canal missing here was left to the plan.</param>
/// <param name="Core">The core that has to come out, in words; null for none.</param>
/// <param name="ResinFollows">Whether resin will be bonded in the root afterwards.</param>
public sealed record PlanSettings(IReadOnlyDictionary<string, CanalChoice> Canals, string? Core, bool ResinFollows)
{
    /// <summary>Nothing was set.</summary>
    public static PlanSettings None { get; } = new(new Dictionary<string, CanalChoice>(), null, ResinFollows: false);
}

/// <summary>Planned final size of a canal: the shape that nothing may exceed.</summary>
/// <param name="TipSize">ISO size: hundredths of a millimetre at the end.</param>
/// <param name="Taper">Growth of the diameter in mm per mm.</param>
public readonly record struct FinalSize(int TipSize, double Taper)
{
    /// <summary>As it is written, such as 35/.04.</summary>
    public string Words => string.Create(CultureInfo.InvariantCulture, $"{TipSize}/{Taper:.00##}");
}

/// <summary>What stands on the canals before any filling is reached.</summary>
/// <param name="Crown">The crown, in words; null when none.</param>
/// <param name="Core">The core, in words; null when none.</param>
/// <param name="Post">The post, in words; null when none.</param>
public sealed record TakeDown(string? Crown, string? Core, string? Post);
