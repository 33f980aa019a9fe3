using System.Data.Common;
using System.Globalization;
using Secondpass.Records.Sqlite;

namespace Secondpass.Records.Events;

/// <summary>Appends events inside one transaction that already holds the right to write, and takes them into the projections.</summary>
/// <param name="transaction">The transaction.</param>
/// <param name="time">The clock.</param>
/// <param name="projections">The tables that follow.</param>
internal sealed class EventWriter(DbTransaction transaction, TimeProvider time, IReadOnlyList<IProjection> projections)
{
    private ReadOnlyMemory<byte>? lastHash;

    /// <summary>The events of one stream, oldest first.</summary>
    public IReadOnlyList<StoredEvent> Read(string stream)
    {
        using var command = transaction.Command($"SELECT {EventRows.Columns} FROM events WHERE stream = @stream ORDER BY version", ("@stream", stream));
        return [.. EventRows.Of(command)];
    }

    /// <summary>The version of a stream; 0 when there is none.</summary>
    public long VersionOf(string stream) => Number("SELECT coalesce(max(version), 0) FROM events WHERE stream = @stream", ("@stream", stream));

    /// <summary>The event that a device gave this number, or null.</summary>
    public StoredEvent? Find(string device, long sequence)
    {
        using var command = transaction.Command(
            $"SELECT {EventRows.Columns} FROM events WHERE device = @device AND sequence = @sequence",
            ("@device", device),
            ("@sequence", sequence));
        return EventRows.Of(command).FirstOrDefault();
    }

    /// <summary>Appends an event.</summary>
    /// <param name="stream">The stream.</param>
    /// <param name="who">Who did it.</param>
    /// <param name="device">The device.</param>
    /// <param name="sequence">Its number on that device; null for the next one.</param>
    /// <param name="added">What happened.</param>
    public void Append(string stream, string who, string device, long? sequence, NewEvent added)
    {
        var stored = new StoredEvent(
            stream,
            VersionOf(stream) + 1,
            added.Kind,
            added.KindVersion,
            time.GetUtcNow().UtcTicks,
            who,
            device,
            sequence ?? Number("SELECT coalesce(max(sequence), 0) FROM events WHERE device = @device", ("@device", device)) + 1,
            added.Payload,
            lastHash ?? LastHash());
        Insert(stored);
        foreach (var projection in projections)
        {
            projection.Apply(transaction, stored);
        }

        lastHash = EventChain.HashOf(stored);
    }

    private void Insert(StoredEvent stored) => transaction.Execute(
        $"INSERT INTO events ({EventRows.Columns}) VALUES (@stream, @version, @kind, @kindVersion, @ticks, @who, @device, @sequence, @payload, @previousHash)",
        ("@stream", stored.Stream),
        ("@version", stored.Version),
        ("@kind", stored.Kind),
        ("@kindVersion", stored.KindVersion),
        ("@ticks", stored.UtcTicks),
        ("@who", stored.Who),
        ("@device", stored.Device),
        ("@sequence", stored.Sequence),
        ("@payload", stored.Payload.ToArray()),
        ("@previousHash", stored.PreviousHash.ToArray()));

    private ReadOnlyMemory<byte> LastHash()
    {
        using var command = transaction.Command($"SELECT {EventRows.Columns} FROM events ORDER BY position DESC LIMIT 1");
        var last = EventRows.Of(command).FirstOrDefault();
        return last is null ? EventChain.Start : EventChain.HashOf(last);
    }

    private long Number(string sql, params ReadOnlySpan<(string Name, object Value)> values)
    {
        using var command = transaction.Command(sql, values);
        return Convert.ToInt64(command.ExecuteScalar(), CultureInfo.InvariantCulture);
    }
}
