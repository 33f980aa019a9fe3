using System.Globalization;
using Secondpass.Domain;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Chairside;
using Secondpass.Domain.Instruments;
using Secondpass.Records.Films;
using Secondpass.Records.Keys;
using Secondpass.Records.Projections;

namespace Secondpass.Records.Events;

/// <summary>The cases, each a stream of events.</summary>
/// <remarks>Safe to call from several threads; a second program may use the same store.</remarks>
public sealed class CaseStore
{
    // Numbers that a device gave itself never meet those that the store gives.
    private const string OutboxPrefix = "outbox/";

    private readonly EventLog events;
    private readonly FileArchive files;
    private readonly TimeProvider time;
    private readonly Action<IReadOnlyList<string>> removeUnneeded;

    internal CaseStore(EventLog events, FileArchive files, TimeProvider time, Action<IReadOnlyList<string>> removeUnneeded)
    {
        this.removeUnneeded = removeUnneeded;
        this.events = events;
        this.files = files;
        this.time = time;
    }

    /// <summary>Opens a case.</summary>
    /// <param name="opened">Patient, tooth and referral.</param>
    /// <param name="by">Who opens it.</param>
    /// <param name="further">What else is known already, in order: stored with it or not at all.</param>
    /// <returns>The case; or a refusal: busy, disk full, not reached.</returns>
    public Answer<DentalCase> Open(CaseOpened opened, Author by, params IReadOnlyList<CaseEvent> further)
    {
        ArgumentNullException.ThrowIfNull(opened);
        ArgumentNullException.ThrowIfNull(further);
        var id = new CaseId(Identity.New());
        return events.Write<DentalCase>(writer =>
        {
            var key = writer.Keys.ForPatient(writer.Transaction, opened.Patient.Number);
            foreach (var one in further.Prepend(opened))
            {
                writer.Append(StreamOf(id), by, null, one, key);
            }

            return DentalCase.From(id, [opened, .. further]);
        });
    }

    /// <summary>Reads a case.</summary>
    /// <returns>The case; or a refusal: <c>no_such_case</c>, <c>patient_forgotten</c>, <c>event_damaged</c>, not reached.</returns>
    public Answer<DentalCase> Read(CaseId id) => events.TryRead<DentalCase>(reader =>
        Load(reader, id).TryGet(out var loaded, out var refusal) ? loaded.Case : refusal);

    /// <summary>Notes what happened to a case, all or nothing.</summary>
    /// <param name="id">The case.</param>
    /// <param name="expectedVersion">The version of the case that the change was made to. Entries from the chair that came in since don't matter.</param>
    /// <param name="by">Who notes it.</param>
    /// <param name="happened">What happened, in order.</param>
    /// <returns>The case as it is now; or a refusal: <c>case_changed</c> names who changed it meanwhile and when; <c>no_such_case</c>; busy; disk full.</returns>
    public Answer<DentalCase> Append(CaseId id, long expectedVersion, Author by, IReadOnlyList<CaseEvent> happened)
    {
        ArgumentNullException.ThrowIfNull(happened);
        if (happened.Any(one => one is PatientCorrected))
        {
            throw new ArgumentException($"A patient is corrected by {nameof(CorrectPatient)}.", nameof(happened));
        }

        return events.Write<DentalCase>(writer =>
        {
            if (!Load(writer, id).TryGet(out var before, out var refusal))
            {
                return refusal;
            }

            if (WhatMatteredSince(before.Stored, expectedVersion) is { } change)
            {
                return Changed(before.Stored, change, expectedVersion);
            }

            foreach (var one in happened)
            {
                writer.Append(StreamOf(id), by, null, one, before.Key);
            }

            return happened.Aggregate(before.Case, (so, next) => so.With(next));
        });
    }

    /// <summary>Attaches a film that belongs to no case yet: of two who attach it at once, the second is refused.</summary>
    /// <param name="id">The case.</param>
    /// <param name="expectedVersion">As for <see cref="Append"/>.</param>
    /// <param name="by">Who attaches it.</param>
    /// <param name="attached">The film.</param>
    /// <returns>The case as it is now; or a refusal: <c>film_attached_already</c> names who attached it to which case and when; otherwise as for <see cref="Append"/>.</returns>
    public Answer<DentalCase> AttachNewFilm(CaseId id, long expectedVersion, Author by, FilmAttached attached)
    {
        ArgumentNullException.ThrowIfNull(attached);
        return events.Write<DentalCase>(writer =>
        {
            if (!Load(writer, id).TryGet(out var before, out var refusal))
            {
                return refusal;
            }

            if (FindFilm(writer, attached.Film.Sha256) is { } already)
            {
                return AttachedAlready(already, id);
            }

            if (WhatMatteredSince(before.Stored, expectedVersion) is { } change)
            {
                return Changed(before.Stored, change, expectedVersion);
            }

            writer.Append(StreamOf(id), by, null, attached, before.Key);
            return before.Case.With(attached);
        });
    }

    /// <summary>Who attached a film to a case, and when; of several cases the first.</summary>
    /// <param name="sha256">SHA-256 of its file.</param>
    /// <returns>The line; null when the film belongs to no case.</returns>
    public FilmInCase? FindFilm(string sha256) => events.Read(reader => FindFilm(reader, sha256));

    /// <summary>The refusal of a film that belongs to a case already; null when it belongs to none.</summary>
    /// <param name="id">The case that it is to be attached to.</param>
    /// <param name="sha256">SHA-256 of its file.</param>
    public Refusal? WhyAttached(CaseId id, string sha256) => FindFilm(sha256) is { } already ? AttachedAlready(already, id) : null;

    /// <summary>SHA-256 of everything that cases speak of: films, papers, photographs and letters.</summary>
    public IReadOnlySet<string> FilesOfCases() => events.Read(reader => CaseFileTable.AllFiles(reader.Transaction)).ToHashSet(StringComparer.Ordinal);

    /// <summary>Corrects the patient of a case; the key to everything noted in it goes to the right patient with it.</summary>
    /// <param name="id">The case.</param>
    /// <param name="expectedVersion">As for <see cref="Append"/>.</param>
    /// <param name="by">Who corrects it.</param>
    /// <param name="corrected">The right patient, and why.</param>
    /// <param name="further">What else is noted with it, in order: all or nothing.</param>
    /// <returns>The case as it is now; or a refusal: <c>patient_has_other_cases</c> when the number changes and the key is that of other cases too; otherwise as for <see cref="Append"/>.</returns>
    public Answer<DentalCase> CorrectPatient(CaseId id, long expectedVersion, Author by, PatientCorrected corrected, params IReadOnlyList<CaseEvent> further)
    {
        ArgumentNullException.ThrowIfNull(corrected);
        ArgumentNullException.ThrowIfNull(further);
        return events.Write<DentalCase>(writer =>
        {
            if (!Load(writer, id).TryGet(out var before, out var refusal))
            {
                return refusal;
            }

            if (WhatMatteredSince(before.Stored, expectedVersion) is { } change)
            {
                return Changed(before.Stored, change, expectedVersion);
            }

            if (corrected.Patient.Number != before.Case.Patient.Number)
            {
                var others = CaseTable.OfPatient(writer.Transaction, before.Key.Id).Count - 1;
                if (others > 0)
                {
                    return HasOtherCases(before.Case.Patient.Number, others, corrected.Patient.Number);
                }

                writer.Keys.GiveTo(writer.Transaction, before.Key.Id, corrected.Patient.Number);
            }

            foreach (var one in further.Prepend(corrected))
            {
                writer.Append(StreamOf(id), by, null, one, before.Key);
            }

            return further.Prepend(corrected).Aggregate(before.Case, (so, next) => so.With(next));
        });
    }

    /// <summary>Notes an entry from the chair. The same entry sent twice is stored once.</summary>
    /// <param name="id">The case.</param>
    /// <param name="key">The number that the device gave it.</param>
    /// <param name="by">Who notes it.</param>
    /// <param name="entry">The entry.</param>
    /// <returns>The case as it is now; or a refusal: <c>entry_number_taken</c> when the device gave this number to another entry; <c>no_such_case</c>; busy; disk full.</returns>
    public Answer<DentalCase> AppendEntry(CaseId id, EntryKey key, Author by, ChairsideEntry entry)
    {
        ArgumentNullException.ThrowIfNull(entry);
        return events.Write<DentalCase>(writer =>
        {
            if (!Load(writer, id).TryGet(out var before, out var refusal))
            {
                return refusal;
            }

            var written = EventPayload.Write(entry);
            if (writer.Find(OutboxPrefix + key.Device, key.Sequence) is { } earlier)
            {
                return earlier.Stream == StreamOf(id) && writer.Decode(earlier).TryGet(out var stored, out _) && SameAs(written, EventPayload.Write(stored))
                    ? before.Case
                    : NumberTaken(key);
            }

            writer.Append(StreamOf(id), by with { Device = OutboxPrefix + key.Device }, key.Sequence, written, entry, before.Key);
            return before.Case.With(entry);
        });
    }

    /// <summary>Forgets a patient: destroys the key to everything noted about them, notes that it did, and deletes the files that no other case needs.</summary>
    /// <param name="patientNumber">The clinic's own patient number.</param>
    /// <param name="by">Who forgets them.</param>
    /// <returns>How many cases can't be read any more; or a refusal: <c>no_such_patient</c>, <c>keys_being_read</c> by somebody else on a server, busy, disk full. Of a refusal nothing was changed.</returns>
    public Answer<int> ForgetPatient(string patientNumber, Author by)
    {
        var files = new List<string>();
        var answer = events.Write<int>(writer =>
        {
            var keys = writer.Keys.AllOf(writer.Transaction, patientNumber);
            if (keys.Count == 0)
            {
                return new Refusal(
                    "no_such_patient",
                    $"There is no case of a patient “{patientNumber}” here.",
                    "Give the patient number exactly as it stands in the list of cases.");
            }

            var forgotten = 0;
            foreach (var keyId in keys)
            {
                var cases = CaseTable.OfPatient(writer.Transaction, keyId);
                files.AddRange(cases.SelectMany(id => CaseFileTable.Of(writer.Transaction, id)));
                PatientKeys.Destroy(writer.Transaction, keyId);
                writer.Append("patient/" + keyId, by, null, new PatientForgotten(cases, [.. cases.SelectMany(id => InstrumentUseTable.Of(writer.Transaction, id))]));
                forgotten += cases.Count;
            }

            return events.ScrubKeys(writer) is { } beingRead ? beingRead : forgotten;
        });
        if (answer.IsGiven)
        {
            events.EmptyLog();
            removeUnneeded(files);
        }

        return answer;
    }

    /// <summary>All cases, the one changed last first.</summary>
    public IReadOnlyList<CaseLine> List() => events.Read(CaseTable.All);

    /// <summary>What was noted about a case, oldest first.</summary>
    /// <returns>The lines; or a refusal: <c>no_such_case</c>, <c>patient_forgotten</c>, <c>event_damaged</c>, not reached.</returns>
    public Answer<IReadOnlyList<CaseHistoryLine>> History(CaseId id) => events.TryRead<IReadOnlyList<CaseHistoryLine>>(reader =>
        Load(reader, id).TryGet(out var loaded, out var refusal)
            ? loaded.Stored.Zip(loaded.Happened, (stored, happened) => new CaseHistoryLine(stored.Version, stored.Who, DeviceOf(stored), At(stored), happened)).ToArray()
            : refusal);

    /// <summary>Stores a paper, a photograph or a letter untouched.</summary>
    /// <returns>Its SHA-256; or a refusal: disk full, not writable.</returns>
    public Answer<string> KeepFile(ReadOnlySpan<byte> bytes) => files.Keep(bytes);

    /// <summary>Reads a paper, a photograph or a letter back.</summary>
    /// <returns>Its bytes; or a refusal: not here, damaged.</returns>
    public Answer<byte[]> ReadFile(string sha256) => files.Read(sha256);

    /// <summary>How often an instrument was used: in how many visits of how many cases, or canals of them, a step was done with it.</summary>
    /// <remarks>A step that was corrected doesn't count; what holds instead does.</remarks>
    /// <param name="itemId">The item.</param>
    /// <param name="count">How the clinic counts.</param>
    public int Uses(string itemId, UseCount count) => events.Read(reader => InstrumentUseTable.Count(reader.Transaction, itemId, count));

    private static string StreamOf(CaseId id) => CaseTable.StreamPrefix + id.Value;

    private static bool SameAs(NewEvent one, NewEvent other) => one.Kind == other.Kind && one.Payload.Span.SequenceEqual(other.Payload.Span);

    private static Answer<Loaded> Load(EventReader reader, CaseId id)
    {
        var stored = reader.Read(StreamOf(id));
        if (stored.Count == 0)
        {
            return NoSuchCase(id);
        }

        return reader.Decode<CaseEvent>(stored).TryGet(out var happened, out var refusal)
            ? new Loaded(stored, happened, DentalCase.From(id, happened), reader.KeyOf(stored[0])!)
            : refusal;
    }

    private static FilmInCase? FindFilm(EventReader reader, string sha256)
    {
        foreach (var id in CaseFileTable.CasesWith(reader.Transaction, sha256))
        {
            if (Load(reader, new CaseId(id)).TryGet(out var loaded, out _))
            {
                foreach (var (stored, happened) in loaded.Stored.Zip(loaded.Happened))
                {
                    if (happened is FilmAttached film && film.Film.Sha256 == sha256)
                    {
                        return new FilmInCase(loaded.Case.Id, loaded.Case.Patient.Number, loaded.Case.Tooth, stored.Who, At(stored));
                    }
                }
            }
        }

        return null;
    }

    private static DateTimeOffset At(StoredEvent stored) => new(stored.UtcTicks, TimeSpan.Zero);

    private static string DeviceOf(StoredEvent stored) =>
        stored.Device.StartsWith(OutboxPrefix, StringComparison.Ordinal) ? stored.Device[OutboxPrefix.Length..] : stored.Device;

    private static StoredEvent? WhatMatteredSince(IReadOnlyList<StoredEvent> stored, long expectedVersion) => expectedVersion > stored.Count
        ? stored[^1]
        : stored.LastOrDefault(one => one.Version > expectedVersion && !typeof(ChairsideEntry).IsAssignableFrom(EventKinds.Find(one.Kind)?.Type));

    private static Refusal NoSuchCase(CaseId id) => new(
        "no_such_case",
        $"There is no case “{id.Value}” here.",
        "Choose it from the list of cases.");

    private static Refusal HasOtherCases(string number, int others, string right) => new(
        "patient_has_other_cases",
        FormattableString.Invariant($"Patient {number} has {others} other {(others == 1 ? "case" : "cases")} here. What is noted of a patient is locked under one key, so this case can't be moved to patient {right} alone."),
        $"Open a new case for patient {right} and enter there what holds; then write into the reason for referral here that this case was opened for the wrong patient.");

    private static Refusal NumberTaken(EntryKey key) => new(
        "entry_number_taken",
        FormattableString.Invariant($"The device “{key.Device}” already sent another entry under its number {key.Sequence}; this one was not stored."),
        "Note the entry again.");

    private Refusal AttachedAlready(FilmInCase already, CaseId id)
    {
        var when = TimeZoneInfo.ConvertTime(already.At, time.LocalTimeZone).ToString("yyyy-MM-dd 'at' HH:mm", CultureInfo.InvariantCulture);
        return already.Id == id
            ? new Refusal(
                "film_attached_already",
                $"{already.Who} attached this film to this case already, on {when}. It is there once.",
                "Look at it under Films and photographs.")
            : new Refusal(
                "film_attached_already",
                $"{already.Who} attached this film to the case of patient {already.PatientNumber}, {already.Tooth.Words}, on {when}. It was not attached here.",
                "If it shows this tooth too, choose its file under Attach films.");
    }

    private sealed record Loaded(IReadOnlyList<StoredEvent> Stored, IReadOnlyList<CaseEvent> Happened, DentalCase Case, PatientKey Key);

    private Refusal Changed(IReadOnlyList<StoredEvent> stored, StoredEvent change, long expectedVersion)
    {
        var when = TimeZoneInfo.ConvertTime(At(change), time.LocalTimeZone).ToString("yyyy-MM-dd 'at' HH:mm", CultureInfo.InvariantCulture);
        return new Refusal(
            "case_changed",
            $"{change.Who} changed this case meanwhile, on {when} on the device “{DeviceOf(change)}”. Nothing of yours was stored.",
            "Look at what changed, then make your change anew if it is still right.",
            new Dictionary<string, double> { ["expected_version"] = expectedVersion, ["version"] = stored.Count });
    }
}
