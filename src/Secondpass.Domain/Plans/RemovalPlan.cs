using Secondpass.Domain.Quantities;

namespace Secondpass.Domain.Plans;

/// <summary>A named order of instruments that the clinic uses.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Steps">Its steps in order.</param>
public sealed record Sequence(string Name, IReadOnlyList<SequenceStep> Steps);

/// <summary>One step of a sequence: which kind, how fast.</summary>
/// <param name="KindCode">The instrument kind.</param>
/// <param name="SpeedRpm">Speed that the clinic runs it at, in revolutions per minute; null where it doesn't rotate.</param>
/// <param name="TorqueNewtonCentimetres">Torque limit set, in N·cm; null where it doesn't rotate.</param>
/// <param name="Note">Anything else, in words.</param>
public sealed record SequenceStep(string KindCode, double? SpeedRpm, double? TorqueNewtonCentimetres, string? Note);

/// <summary>How the old filling of a tooth is planned to come out.</summary>
/// <remarks>What should happen, not what did: that is the chairside record.</remarks>
/// <param name="Name">Such as "the clinic's own: ultrasonic first".</param>
/// <param name="Steps">Steps in order.</param>
/// <param name="Assumptions">What it rests on, in sentences.</param>
/// <param name="Refusals">Steps or instruments that were not taken, and why.</param>
public sealed record RemovalPlan(
    string Name,
    IReadOnlyList<RemovalStep> Steps,
    IReadOnlyList<string> Assumptions,
    IReadOnlyList<Refusal> Refusals);

/// <summary>One step of a plan: what, where, how far, how fast, when to stop, when to give up.</summary>
/// <param name="Phase">Take-down, coronal filling, removal, finish, obstacle.</param>
/// <param name="Instrument">Instrument in words; null for a step without one.</param>
/// <param name="KindCode">Its kind, or null.</param>
/// <param name="Branch">The branch, or null for the whole tooth.</param>
/// <param name="StopFromReference">Depth of the stop from the reference point; null when not known.</param>
/// <param name="StopFromEnd">The stop short of the canal's end; null when not known.</param>
/// <param name="SpeedRpm">Speed, in revolutions per minute; null where it doesn't rotate.</param>
/// <param name="TorqueNewtonCentimetres">Torque limit in N·cm; null where it doesn't rotate.</param>
/// <param name="BindingLimit">The one limit that decides the stop, in words.</param>
/// <param name="WallLeft">Wall left where it is thinnest; null where no wall was measured.</param>
/// <param name="LossPerSide">Dentine cut on each side where that is most; null where not known.</param>
/// <param name="Minutes">Minutes with an interval; null where no published or own figure exists.</param>
/// <param name="AttemptsAtMost">Attempts set beforehand; null for none.</param>
/// <param name="MinutesAtMost">Minutes set beforehand; null for none.</param>
/// <param name="ThenWhat">What follows when it doesn't work, in words; null for none.</param>
/// <param name="Cautions">Cautions shown beside it.</param>
public sealed record RemovalStep(
    RemovalPhase Phase,
    string? Instrument,
    string? KindCode,
    string? Branch,
    Millimetres? StopFromReference,
    Millimetres? StopFromEnd,
    double? SpeedRpm,
    double? TorqueNewtonCentimetres,
    string BindingLimit,
    Millimetres? WallLeft,
    Millimetres? LossPerSide,
    Estimate? Minutes,
    int? AttemptsAtMost,
    double? MinutesAtMost,
    string? ThenWhat,
    IReadOnlyList<string> Cautions)
{
    /// <summary>What is done, in a sentence that can be read at the chair.</summary>
    public string Action { get; init; } = string.Empty;

    /// <summary>The reference point that the stop is read from; null where no length is noted.</summary>
    public string? Reference { get; init; }

    /// <summary>Which instrument in stock, and which use of it; null when none is kept in stock or none has life left.</summary>
    public PlannedUse? Use { get; init; }

    /// <summary>What it cuts, level by level; empty where no width was measured.</summary>
    public IReadOnlyList<PlannedCut> Cuts { get; init; } = [];

    /// <summary>Filling and dentine that it takes; null where no width was measured.</summary>
    public PlannedVolumes? Volumes { get; init; }
}

/// <summary>One use of an instrument in stock.</summary>
/// <param name="ItemId">The very item.</param>
/// <param name="CalledBy">Its position, such as "kit A, 3".</param>
/// <param name="InWords">Such as "use 3 of 5".</param>
public sealed record PlannedUse(string ItemId, string CalledBy, string InWords);

/// <summary>Widths at one level before and after a step.</summary>
/// <param name="FromEnd">Level from the canal's end.</param>
/// <param name="Before">Width of the canal before.</param>
/// <param name="After">Width of the canal after.</param>
/// <param name="WallLeft">Thinnest wall left there; null where it was not measured.</param>
public sealed record PlannedCut(Millimetres FromEnd, Millimetres Before, Millimetres After, Millimetres? WallLeft);

/// <summary>Filling and dentine that a step takes, sections taken as circles.</summary>
/// <param name="FillingBeforeCubicMillimetres">Filling before.</param>
/// <param name="FillingCutCubicMillimetres">Filling that it takes.</param>
/// <param name="DentineCutCubicMillimetres">Dentine that it takes, an upper estimate where only the filling's width is known.</param>
public sealed record PlannedVolumes(double FillingBeforeCubicMillimetres, double FillingCutCubicMillimetres, double DentineCutCubicMillimetres);

/// <summary>The phases of removal.</summary>
public enum RemovalPhase
{
    /// <summary>Crown, core and post come off.</summary>
    TakeDown,

    /// <summary>Coronal gutta-percha.</summary>
    Coronal,

    /// <summary>The bulk down the canal.</summary>
    Bulk,

    /// <summary>An obstacle.</summary>
    Obstacle,

    /// <summary>Scraping the walls.</summary>
    Walls,
}
