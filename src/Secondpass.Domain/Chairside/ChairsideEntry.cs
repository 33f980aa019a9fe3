using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Quantities;

namespace Secondpass.Domain.Chairside;

/// <summary>Something that happened at the chair. Appended, never changed; a correction is a new entry.</summary>
/// <remarks>Not a <see cref="Plans.RemovalStep"/>, which is what should happen.</remarks>
/// <param name="Visit">Number of the visit, from 1.</param>
/// <param name="At">When, in UTC, as the device that noted it says.</param>
public abstract record ChairsideEntry(int Visit, DateTimeOffset At) : CaseEvent;

/// <summary>The moments from which minutes are counted.</summary>
public enum ChairsideMark
{
    /// <summary>The patient is seated.</summary>
    Seated,

    /// <summary>Access and disassembly begin.</summary>
    Access,

    /// <summary>First touch of filling.</summary>
    RemovalStart,

    /// <summary>Length reached in a canal.</summary>
    LengthReached,

    /// <summary>Removal judged complete.</summary>
    RemovalComplete,

    /// <summary>Shaping ended.</summary>
    ShapingEnd,

    /// <summary>Hands off: a film, a search for a canal, waiting. Hands-on minutes stop.</summary>
    HandsOff,

    /// <summary>Hands on again.</summary>
    HandsOn,

    /// <summary>The patient leaves.</summary>
    Left,
}

/// <summary>A moment was marked.</summary>
/// <param name="Visit">Number of the visit, from 1.</param>
/// <param name="At">When, in UTC.</param>
/// <param name="Mark">Which.</param>
/// <param name="Canal">The canal, or null for the tooth.</param>
public sealed record MomentMarked(int Visit, DateTimeOffset At, ChairsideMark Mark, string? Canal) : ChairsideEntry(Visit, At);

/// <summary>A step of taking the tooth apart was done: crown, core or post is out.</summary>
/// <param name="Visit">Number of the visit, from 1.</param>
/// <param name="At">When, in UTC.</param>
/// <param name="What">What was done, in the words of the plan.</param>
public sealed record TakenDown(int Visit, DateTimeOffset At, string What) : ChairsideEntry(Visit, At);

/// <summary>A step was done with an instrument.</summary>
/// <param name="Visit">Number of the visit, from 1.</param>
/// <param name="At">When, in UTC.</param>
/// <param name="Canal">The canal.</param>
/// <param name="Instrument">The instrument in words.</param>
/// <param name="KindCode">Its kind, or null.</param>
/// <param name="ItemId">The very item, or null.</param>
/// <param name="Depth">Depth as read, or null.</param>
/// <param name="Note">Anything else, in words.</param>
public sealed record StepDone(
    int Visit,
    DateTimeOffset At,
    string Canal,
    string Instrument,
    string? KindCode,
    string? ItemId,
    LengthReading? Depth,
    string? Note) : ChairsideEntry(Visit, At);

/// <summary>Kinds of procedural error and other events.</summary>
public enum ProceduralEvent
{
    /// <summary>The file stops short.</summary>
    FileStops,

    /// <summary>A ledge is felt.</summary>
    Ledge,

    /// <summary>An instrument separated.</summary>
    SeparatedInstrument,

    /// <summary>A perforation is suspected.</summary>
    PerforationSuspected,

    /// <summary>Filling or irrigant went beyond the apex.</summary>
    BeyondApex,

    /// <summary>Something else.</summary>
    Other,
}

/// <summary>Something went wrong.</summary>
/// <param name="Visit">Number of the visit, from 1.</param>
/// <param name="At">When, in UTC.</param>
/// <param name="Canal">The canal, or null.</param>
/// <param name="Event">What.</param>
/// <param name="FragmentLength">Length of a fragment; null for others.</param>
/// <param name="FromReference">Level, as read; null when not read.</param>
/// <param name="ToldTo">Who was told, in words; null when nobody yet.</param>
/// <param name="ToldAt">When they were told.</param>
/// <param name="Note">Anything else, in words.</param>
public sealed record EventHappened(
    int Visit,
    DateTimeOffset At,
    string? Canal,
    ProceduralEvent Event,
    Millimetres? FragmentLength,
    LengthReading? FromReference,
    string? ToldTo,
    DateTimeOffset? ToldAt,
    string? Note) : ChairsideEntry(Visit, At);

/// <summary>What the eye saw in a canal.</summary>
/// <param name="Visit">Number of the visit, from 1.</param>
/// <param name="At">When, in UTC.</param>
/// <param name="Canal">The canal.</param>
/// <param name="FillingSeen">Whether filling was seen on a wall; false: none seen.</param>
/// <param name="Wall">On which wall, in words; null when none.</param>
/// <param name="FromReference">At which level; null when not read.</param>
public sealed record SeenByEye(int Visit, DateTimeOffset At, string Canal, bool FillingSeen, string? Wall, Millimetres? FromReference) : ChairsideEntry(Visit, At);

/// <summary>An earlier entry was wrong; both stay.</summary>
/// <param name="Visit">Number of the visit, from 1.</param>
/// <param name="At">When, in UTC.</param>
/// <param name="EntryNumber">Number of the entry in the case, from 1.</param>
/// <param name="Reason">What was wrong.</param>
/// <param name="Instead">What holds instead; null when it simply doesn't hold.</param>
public sealed record EntryCorrected(int Visit, DateTimeOffset At, int EntryNumber, string Reason, ChairsideEntry? Instead) : ChairsideEntry(Visit, At);
