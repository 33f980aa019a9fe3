using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Quantities;

namespace Secondpass.Domain.Cases;

/// <summary>The canals were noted: the last table holds.</summary>
/// <param name="Canals">Trunks and branches, parents before children.</param>
public sealed record CanalsNoted(IReadOnlyList<CanalRecord> Canals) : CaseEvent;

/// <summary>A cone-beam scan was read.</summary>
/// <param name="Reading">What was read.</param>
public sealed record ConeBeamRead(ConeBeamReading Reading) : CaseEvent;

/// <summary>A reference point was reduced or lost: lengths read from it before no longer hold.</summary>
/// <param name="Name">Its name, such as "mesiobuccal cusp".</param>
/// <param name="Reason">What happened to it, in words.</param>
public sealed record ReferencePointLost(string Name, string Reason) : CaseEvent;

/// <summary>In which plane a canal splits or two canals join.</summary>
public enum MeetingPlane
{
    /// <summary>Not known.</summary>
    Unknown,

    /// <summary>Mesiodistal: seen side by side on a usual film.</summary>
    Mesiodistal,

    /// <summary>Buccolingual: one behind the other on a usual film.</summary>
    Buccolingual,
}

/// <summary>How a canal's old filling stands, by what was seen.</summary>
public enum CanalFilling
{
    /// <summary>Not judged.</summary>
    NotJudged,

    /// <summary>Filled to an adequate length.</summary>
    Filled,

    /// <summary>Filled short.</summary>
    ShortOfEnd,

    /// <summary>Filled beyond the end.</summary>
    BeyondEnd,

    /// <summary>Not filled.</summary>
    Unfilled,
}

/// <summary>What is to be done with a canal.</summary>
public enum CanalIntent
{
    /// <summary>Treat it again.</summary>
    Retreat,

    /// <summary>Leave it alone: its root is not treated again. Goes into consent and letter.</summary>
    LeaveAlone,

    /// <summary>Look for it: expected, not found yet.</summary>
    LookFor,
}

/// <summary>What stands in the way of a canal.</summary>
public enum Obstacle
{
    /// <summary>A ledge.</summary>
    Ledge,

    /// <summary>A separated instrument.</summary>
    SeparatedInstrument,

    /// <summary>A blockage.</summary>
    Blockage,

    /// <summary>A perforation.</summary>
    Perforation,

    /// <summary>A post.</summary>
    Post,
}

/// <summary>Where a branch leaves its parent or joins it again.</summary>
/// <param name="Joins">True when it joins, false when it splits off.</param>
/// <param name="FromEnd">Distance from the canal's end; null when not known.</param>
/// <param name="Plane">The plane.</param>
public sealed record CanalMeeting(bool Joins, Millimetres? FromEnd, MeetingPlane Plane);

/// <summary>One branch of a canal as the case knows it. A canal is a tree: a trunk with branches.</summary>
/// <remarks>Not a <see cref="Films.TracedBranch"/>, which is its picture on one film; they share the name.</remarks>
/// <param name="Name">Anatomical name, such as MB1; unique in the tooth.</param>
/// <param name="Root">Its root, such as MB.</param>
/// <param name="Parent">The branch it leaves, or null for a trunk.</param>
/// <param name="Meeting">Where it meets its parent; null for a trunk.</param>
/// <param name="Found">Whether it was found, in the mouth or on a film.</param>
/// <param name="Filling">How its old filling stands.</param>
/// <param name="FillingEndToCanalEnd">From the filling's end to the canal's end: short positive, beyond negative; null when not measured.</param>
/// <param name="OffCentre">How unequal the distances from its filling to the two surfaces of its root are on a film; null when not measured.</param>
/// <param name="Intent">What is to be done with it.</param>
/// <param name="Obstacles">What stands in the way.</param>
/// <param name="Lengths">Lengths as read.</param>
/// <param name="FoundLater">Whether it was added during treatment.</param>
public sealed record CanalRecord(
    string Name,
    string Root,
    string? Parent,
    CanalMeeting? Meeting,
    bool Found,
    CanalFilling Filling,
    Millimetres? FillingEndToCanalEnd,
    Millimetres? OffCentre,
    CanalIntent Intent,
    IReadOnlyList<Obstacle> Obstacles,
    IReadOnlyList<LengthReading> Lengths,
    bool FoundLater)
{
    /// <summary>Why its root is left alone, in words; null when it isn't, or when that is not said.</summary>
    public string? WhyLeftAlone { get; init; }
}

/// <summary>Wall of dentine beside a canal as read on a cone-beam scan.</summary>
/// <param name="Canal">The canal.</param>
/// <param name="FromEnd">Level from the canal's end.</param>
/// <param name="Side">mesial, distal, buccal or lingual.</param>
/// <param name="Thickness">Thickness of the wall.</param>
public sealed record WallReading(string Canal, Millimetres FromEnd, string Side, Millimetres Thickness);

/// <summary>Typed findings from a cone-beam scan.</summary>
/// <param name="CanalNames">Canals seen.</param>
/// <param name="Meetings">Joins and splits by branch name.</param>
/// <param name="BuccolingualCurveDegrees">Curve hidden on a film, by canal, in degrees.</param>
/// <param name="Walls">Walls by side and level.</param>
/// <param name="Note">Anything else, in words.</param>
public sealed record ConeBeamReading(
    IReadOnlyList<string> CanalNames,
    IReadOnlyDictionary<string, CanalMeeting> Meetings,
    IReadOnlyDictionary<string, double> BuccolingualCurveDegrees,
    IReadOnlyList<WallReading> Walls,
    string? Note);
