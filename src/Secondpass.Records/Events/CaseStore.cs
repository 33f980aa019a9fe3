using System.Globalization;
using Secondpass.Domain;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Chairside;
using Secondpass.Records.Films;
using Secondpass.Records.Sqlite;

namespace Secondpass.Records.Events;

/// <summary>The cases, each a stream of events.</summary>
/// <remarks>Safe to call from several threads; a second program may use the same store.</remarks>
public sealed class CaseStore
{
    private const string StreamPrefix = "case/";

    // Numbers that a device gave itself never meet those that the store gives.
    private const string OutboxPrefix = "outbox/";

    private readonly SqliteEvents events;
    private readonly FileArchive files;
    private readonly TimeProvider time;

    internal CaseStore(SqliteEvents events, FileArchive files, TimeProvider time)
    {
        this.events = events;
        this.files = files;
        this.time = time;
    }

    /// <summary>Opens a case.</summary>
    /// <param name="opened">Patient, tooth and referral.</param>
    /// <param name="by">Who opens it.</param>
    /// <returns>The case; or a refusal: busy, disk full.</returns>
    public Answer<DentalCase> Open(CaseOpened opened, Author by)
    {
        ArgumentNullException.ThrowIfNull(opened);
        var id = new CaseId(Identity.New());
        return events.Write<DentalCase>(writer =>
        {
            Add(writer, id, by, opened);
            return DentalCase.From(id, [opened]);
        });
    }

    /// <summary>Reads a case.</summary>
    /// <returns>The case; or a refusal: there is none of this identity.</returns>
    public Answer<DentalCase> Read(CaseId id)
    {
        var stored = events.Read(StreamOf(id));
        return stored.Count == 0 ? NoSuchCase(id) : Fold(id, stored);
    }

    /// <summary>Notes what happened to a case, all or nothing.</summary>
    /// <param name="id">The case.</param>
    /// <param name="expectedVersion">The version of the case that the change was made to. Entries from the chair that came in since don't matter.</param>
    /// <param name="by">Who notes it.</param>
    /// <param name="happened">What happened, in order.</param>
    /// <returns>The case as it is now; or a refusal: <c>case_changed</c> names who changed it meanwhile and when; <c>no_such_case</c>; busy; disk full.</returns>
    public Answer<DentalCase> Append(CaseId id, long expectedVersion, Author by, IReadOnlyList<CaseEvent> happened)
    {
        ArgumentNullException.ThrowIfNull(happened);
        return events.Write<DentalCase>(writer =>
        {
            var before = writer.Read(StreamOf(id));
            if (before.Count == 0)
            {
                return NoSuchCase(id);
            }

            if (WhatMatteredSince(before, expectedVersion) is { } change)
            {
                return Changed(before, change, expectedVersion);
            }

            foreach (var one in happened)
            {
                Add(writer, id, by, one);
            }

            return happened.Aggregate(Fold(id, before), (so, next) => so.With(next));
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
            var before = writer.Read(StreamOf(id));
            if (before.Count == 0)
            {
                return NoSuchCase(id);
            }

            var written = EventPayload.Write(entry);
            if (writer.Find(OutboxPrefix + key.Device, key.Sequence) is { } earlier)
            {
                return earlier.Stream == StreamOf(id) && earlier.Kind == written.Kind && EventPayload.Write(ReadEvent(earlier)).Payload.Span.SequenceEqual(written.Payload.Span)
                    ? Fold(id, before)
                    : NumberTaken(key);
            }

            writer.Append(StreamOf(id), by.Who, OutboxPrefix + key.Device, key.Sequence, written);
            return Fold(id, before).With(entry);
        });
    }

    /// <summary>All cases, the one changed last first.</summary>
    public IReadOnlyList<CaseLine> List() =>
    [
        .. events.ReadAll(StreamPrefix)
            .GroupBy(stored => stored.Stream, StringComparer.Ordinal)
            .Select(stream => Line([.. stream]))
            .OrderByDescending(line => line.ChangedAt)
            .ThenBy(line => line.Id.Value, StringComparer.Ordinal),
    ];

    /// <summary>What was noted about a case, oldest first.</summary>
    /// <returns>The lines; or a refusal: there is no such case.</returns>
    public Answer<IReadOnlyList<CaseHistoryLine>> History(CaseId id)
    {
        var stored = events.Read(StreamOf(id));
        return stored.Count == 0
            ? NoSuchCase(id)
            : stored.Select(one => new CaseHistoryLine(one.Version, one.Who, DeviceOf(one), At(one), ReadEvent(one))).ToArray();
    }

    /// <summary>Stores a paper, a photograph or a letter untouched.</summary>
    /// <returns>Its SHA-256; or a refusal: disk full, not writable.</returns>
    public Answer<string> KeepFile(ReadOnlySpan<byte> bytes) => files.Keep(bytes);

    /// <summary>Reads a paper, a photograph or a letter back.</summary>
    /// <returns>Its bytes; or a refusal: not here, damaged.</returns>
    public Answer<byte[]> ReadFile(string sha256) => files.Read(sha256);

    /// <summary>How often an instrument was used: in how many visits of how many cases a step was done with it.</summary>
    /// <param name="itemId">The item.</param>
    public int Uses(string itemId) => events.ReadAll(StreamPrefix)
        .Select(stored => (stored.Stream, Event: ReadEvent(stored)))
        .Where(one => one.Event is StepDone step && step.ItemId == itemId)
        .Select(one => (one.Stream, ((StepDone)one.Event).Visit))
        .Distinct()
        .Count();

    private static string StreamOf(CaseId id) => StreamPrefix + id.Value;

    private static void Add(EventWriter writer, CaseId id, Author by, CaseEvent happened) =>
        writer.Append(StreamOf(id), by.Who, by.Device, null, EventPayload.Write(happened));

    private static CaseEvent ReadEvent(StoredEvent stored) => (CaseEvent)EventPayload.Read(stored.Kind, stored.KindVersion, stored.Payload.Span);

    private static DentalCase Fold(CaseId id, IReadOnlyList<StoredEvent> stored) => DentalCase.From(id, [.. stored.Select(ReadEvent)]);

    private static CaseLine Line(IReadOnlyList<StoredEvent> stored)
    {
        var id = new CaseId(stored[0].Stream[StreamPrefix.Length..]);
        var folded = Fold(id, stored);
        return new CaseLine(id, folded.Patient.Number, folded.Patient.Name, folded.Tooth, folded.Referral.Referrer, At(stored[0]), At(stored[^1]), folded.Version);
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

    private static Refusal NumberTaken(EntryKey key) => new(
        "entry_number_taken",
        FormattableString.Invariant($"The device “{key.Device}” already sent another entry under its number {key.Sequence}; this one was not stored."),
        "Note the entry again.");

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
