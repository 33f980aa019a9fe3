using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;

namespace Secondpass.Records.Events;

/// <summary>A case in the list of cases.</summary>
/// <param name="Id">Its identity.</param>
/// <param name="PatientNumber">The clinic's own patient number.</param>
/// <param name="PatientName">The patient's name; null where the clinic keeps it elsewhere.</param>
/// <param name="Tooth">The tooth.</param>
/// <param name="Referrer">Who sent it; null when nobody sent the patient.</param>
/// <param name="OpenedAt">When it was opened, UTC.</param>
/// <param name="ChangedAt">When something was last noted, UTC.</param>
/// <param name="Version">How many events it has.</param>
public sealed record CaseLine(
    CaseId Id,
    string PatientNumber,
    string? PatientName,
    ToothNumber Tooth,
    string? Referrer,
    DateTimeOffset OpenedAt,
    DateTimeOffset ChangedAt,
    long Version);

/// <summary>One thing that was noted about a case: who, when, what.</summary>
/// <param name="Version">Its number in the case, from 1.</param>
/// <param name="Who">Who noted it.</param>
/// <param name="Device">On which device.</param>
/// <param name="At">When it reached the store, UTC; an entry made at the chair holds the time of its own device too.</param>
/// <param name="Event">What.</param>
public sealed record CaseHistoryLine(long Version, string Who, string Device, DateTimeOffset At, CaseEvent Event);

/// <summary>A film and the case that it belongs to.</summary>
/// <param name="Id">The case.</param>
/// <param name="PatientNumber">The clinic's own patient number.</param>
/// <param name="Tooth">The tooth.</param>
/// <param name="Who">Who attached it.</param>
/// <param name="At">When, UTC.</param>
public sealed record FilmInCase(CaseId Id, string PatientNumber, ToothNumber Tooth, string Who, DateTimeOffset At);
