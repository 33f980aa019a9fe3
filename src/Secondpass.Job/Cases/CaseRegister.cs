using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Records;

namespace Secondpass.Job.Cases;

/// <summary>The cases: found, read, and what was noted in them by whom.</summary>
/// <param name="store">Where they are.</param>
public sealed class CaseRegister(ClinicStore store)
{
    /// <summary>All cases, the last changed first.</summary>
    public IReadOnlyList<ListedCase> All() =>
    [
        .. store.Cases.List()
            .Select(line => new ListedCase(line.Id, new Patient(line.PatientNumber, line.PatientName), line.Tooth, line.Referrer, line.OpenedAt, line.ChangedAt)),
    ];

    /// <summary>One case as it stands now.</summary>
    /// <returns>The case; or a refusal: there is none under this identity, its record is damaged.</returns>
    public Answer<DentalCase> Read(string id) => store.Cases.Read(new CaseId(id));

    /// <summary>What was noted since a version, oldest first.</summary>
    /// <param name="id">The case.</param>
    /// <param name="version">The version that is known; 0 for all.</param>
    /// <returns>The notes; or a refusal as for <see cref="Read"/>.</returns>
    public Answer<IReadOnlyList<CaseNote>> Since(string id, long version) =>
        store.Cases.History(new CaseId(id)).TryGet(out var lines, out var refusal)
            ? new List<CaseNote>(lines.Skip((int)version).Select(line => new CaseNote(line.Who, line.At, line.Event)))
            : refusal;
}

/// <summary>A case as it stands in the list.</summary>
/// <param name="Id">Its identity.</param>
/// <param name="Patient">The patient.</param>
/// <param name="Tooth">The tooth.</param>
/// <param name="Referrer">Who sent it; null when nobody.</param>
/// <param name="Opened">When it was opened, UTC.</param>
/// <param name="LastChanged">When something was last noted, UTC.</param>
public sealed record ListedCase(CaseId Id, Patient Patient, ToothNumber Tooth, string? Referrer, DateTimeOffset Opened, DateTimeOffset LastChanged);

/// <summary>One thing that was noted.</summary>
/// <param name="Who">Who noted it.</param>
/// <param name="When">When, UTC.</param>
/// <param name="Event">What.</param>
public sealed record CaseNote(string Who, DateTimeOffset When, CaseEvent Event);
