using System.Collections.Concurrent;
using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Records;
using Secondpass.Records.Events;

namespace Secondpass.Job.Cases;

/// <summary>The cases: found, read, and what was noted in them by whom.</summary>
/// <param name="store">Where they are.</param>
public sealed class CaseRegister(ClinicStore store)
{
    // What comes next follows from a case's events alone, so it holds until there is one more.
    private readonly ConcurrentDictionary<CaseId, (long Version, Answer<NextOfCase> Next)> known = [];

    /// <summary>All cases, the last changed first.</summary>
    public IReadOnlyList<ListedCase> All() =>
    [
        .. store.Cases.List()
            .Select(line => new ListedCase(line.Id, new Patient(line.PatientNumber, line.PatientName), line.Tooth, line.Referrer, line.OpenedAt, line.ChangedAt, line.Version)),
    ];

    /// <summary>What comes next in a case of the list.</summary>
    /// <returns>The next step, as the case's own page says it; or a refusal as for <see cref="Read"/>.</returns>
    public Answer<NextOfCase> Next(ListedCase listed)
    {
        ArgumentNullException.ThrowIfNull(listed);
        if (known.TryGetValue(listed.Id, out var before) && before.Version == listed.Version)
        {
            return before.Next;
        }

        Answer<NextOfCase> next = store.Cases.Read(listed.Id).TryGet(out var it, out var refusal) ? new NextOfCase(it.NextStep()) : refusal;
        known[listed.Id] = (listed.Version, next);
        return next;
    }

    /// <summary>One case as it stands now.</summary>
    /// <returns>The case; or a refusal: there is none under this identity, its record is damaged.</returns>
    public Answer<DentalCase> Read(string id) => store.Cases.Read(new CaseId(id));

    /// <summary>What was noted since a version, oldest first.</summary>
    /// <param name="id">The case.</param>
    /// <param name="version">The version that is known; 0 for all.</param>
    /// <returns>The notes; or a refusal as for <see cref="Read"/>.</returns>
    public Answer<IReadOnlyList<CaseNote>> Since(string id, long version) =>
        store.Cases.History(new CaseId(id)).TryGet(out var lines, out var refusal)
            ? new List<CaseNote>(Notes(new CaseId(id), lines).Skip((int)version))
            : refusal;

    private static IEnumerable<CaseNote> Notes(CaseId id, IReadOnlyList<CaseHistoryLine> lines)
    {
        DentalCase? before = null;
        foreach (var line in lines)
        {
            yield return new CaseNote(line.Who, line.At, line.Event, before);
            before = before?.With(line.Event) ?? DentalCase.From(id, [line.Event]);
        }
    }
}

/// <summary>A case as it stands in the list.</summary>
/// <param name="Id">Its identity.</param>
/// <param name="Patient">The patient.</param>
/// <param name="Tooth">The tooth.</param>
/// <param name="Referrer">Who sent it; null when nobody.</param>
/// <param name="Opened">When it was opened, UTC.</param>
/// <param name="LastChanged">When something was last noted, UTC.</param>
/// <param name="Version">How much was noted.</param>
public sealed record ListedCase(CaseId Id, Patient Patient, ToothNumber Tooth, string? Referrer, DateTimeOffset Opened, DateTimeOffset LastChanged, long Version);

/// <summary>What comes next in a case.</summary>
/// <param name="Step">The step; null when the case is finished.</param>
public readonly record struct NextOfCase(CaseStep? Step);

/// <summary>One thing that was noted.</summary>
/// <param name="Who">Who noted it.</param>
/// <param name="When">When, UTC.</param>
/// <param name="Event">What.</param>
/// <param name="Before">The case as it stood before; null for what opened it.</param>
public sealed record CaseNote(string Who, DateTimeOffset When, CaseEvent Event, DentalCase? Before);
