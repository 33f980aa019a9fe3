using System.Data.Common;
using Secondpass.Records.Databases;
using Secondpass.Records.Keys;

namespace Secondpass.Records.Events;

/// <summary>Appends events inside one transaction that already holds the right to write, and takes them into the projections.</summary>
/// <param name="transaction">The transaction.</param>
/// <param name="keys">The patients' keys.</param>
/// <param name="time">The clock.</param>
/// <param name="projections">The tables that follow.</param>
internal sealed class EventWriter(DbTransaction transaction, PatientKeys keys, TimeProvider time, IReadOnlyList<IProjection> projections)
    : EventReader(transaction, keys)
{
    private byte[]? lastHash;

    /// <summary>How many events there are after what was appended here; null when nothing was.</summary>
    public long? Position { get; private set; }

    /// <summary>Hash of the last event; null when nothing was appended here.</summary>
    public ReadOnlySpan<byte> LastHash => lastHash;

    /// <summary>Appends an event.</summary>
    /// <param name="stream">The stream.</param>
    /// <param name="by">Who did it, and on which device.</param>
    /// <param name="sequence">Its number on that device; null for the next one.</param>
    /// <param name="happened">What happened.</param>
    /// <param name="key">The patient's key in a stream that is sealed; null in others.</param>
    public void Append(string stream, Author by, long? sequence, object happened, PatientKey? key = null) =>
        Append(stream, by, sequence, EventPayload.Write(happened), happened, key);

    /// <summary>Appends an event whose payload is written already.</summary>
    /// <param name="stream">The stream.</param>
    /// <param name="by">Who did it, and on which device.</param>
    /// <param name="sequence">Its number on that device; null for the next one.</param>
    /// <param name="added">The event as written.</param>
    /// <param name="happened">What happened; null when only the store's own tests know it.</param>
    /// <param name="key">The patient's key in a stream that is sealed; null in others.</param>
    public void Append(string stream, Author by, long? sequence, NewEvent added, object? happened, PatientKey? key)
    {
        if (Sealed.IsIn(stream) != key is not null)
        {
            throw new InvalidOperationException($"Events of “{stream}” are sealed under a patient's key, or have none.");
        }

        var version = VersionOf(stream) + 1;
        var stored = new StoredEvent(
            stream,
            version,
            added.Kind,
            added.KindVersion,
            time.GetUtcNow().UtcTicks,
            by.Who,
            by.Device,
            sequence ?? Transaction.Number("SELECT coalesce(max(sequence), 0) FROM events WHERE device = @device", ("@device", by.Device)) + 1,
            key is null ? added.Payload : Sealed.Seal(key, stream, version, added),
            lastHash ?? LastStoredHash());
        Position = (Position ?? Transaction.Number("SELECT coalesce(max(position), 0) FROM events")) + 1;
        lastHash = EventChain.HashOf(stored);
        Insert(Position.Value, stored, lastHash);
        Failpoints.At(Failpoints.AfterEventBeforeProjection);
        foreach (var projection in projections)
        {
            projection.Apply(new Happening(Transaction, stored, happened, key));
        }
    }

    private void Insert(long position, StoredEvent stored, byte[] hash) => Transaction.Execute(
        $"INSERT INTO events (position, {EventRows.Columns}, hash) VALUES (@position, @stream, @version, @kind, @kindVersion, @ticks, @who, @device, @sequence, @payload, @previousHash, @hash)",
        ("@position", position),
        ("@stream", stored.Stream),
        ("@version", stored.Version),
        ("@kind", stored.Kind),
        ("@kindVersion", (long)stored.KindVersion),
        ("@ticks", stored.UtcTicks),
        ("@who", stored.Who),
        ("@device", stored.Device),
        ("@sequence", stored.Sequence),
        ("@payload", stored.Payload.ToArray()),
        ("@previousHash", stored.PreviousHash.ToArray()),
        ("@hash", hash));

    private byte[] LastStoredHash() => Transaction
        .Rows("SELECT hash FROM events ORDER BY position DESC LIMIT 1", row => (byte[])row.GetValue(0))
        .SingleOrDefault(EventChain.Start.ToArray());
}
