using System.Data.Common;
using System.Globalization;
using Secondpass.Records.Databases;
using Secondpass.Records.Keys;

namespace Secondpass.Records.Events;

/// <summary>What a check of the chain found.</summary>
/// <param name="Events">How many events were checked.</param>
/// <param name="Streams">Of how many streams.</param>
/// <param name="FirstBroken">The first that isn't what was stored; null when all are.</param>
public sealed record ChainReport(long Events, long Streams, BrokenEvent? FirstBroken);

/// <summary>An event that isn't what was stored.</summary>
/// <param name="Number">Its place among all events, from 1.</param>
/// <param name="Stream">What it happened to, as it reads now.</param>
/// <param name="Version">Its number in that stream, as it reads now.</param>
/// <param name="Kind">What happened, as it reads now.</param>
/// <param name="Who">Who did it, as it reads now.</param>
/// <param name="At">When it was stored, UTC, as it reads now; null when that is no time.</param>
/// <param name="Fault">What is wrong with it.</param>
public sealed record BrokenEvent(long Number, string Stream, long Version, string Kind, string Who, DateTimeOffset? At, ChainFault Fault);

/// <summary>What can be wrong with an event in the chain.</summary>
public enum ChainFault
{
    /// <summary>Its content is not what was stored.</summary>
    Changed,

    /// <summary>It doesn't follow the one before it: something was removed or put in.</summary>
    OutOfPlace,

    /// <summary>It is the last one, and more were stored after it.</summary>
    CutOff,
}

/// <summary>Checks the chain against each event's own hash and against the signed end.</summary>
internal static class ChainCheck
{
    private const string End = "end_of_chain";

    /// <summary>Signs where the chain ends now.</summary>
    public static void NoteEnd(DbTransaction transaction, ClinicKey key, long count, ReadOnlySpan<byte> lastHash) =>
        StoreValues.Set(transaction, End, key.Sign(count, lastHash));

    /// <summary>Signs where the chain of a store that had no signature ends.</summary>
    public static void NoteEnd(DbTransaction transaction, ClinicKey key)
    {
        var last = transaction.Rows("SELECT hash FROM events ORDER BY position DESC LIMIT 1", row => (byte[])row.GetValue(0)).SingleOrDefault(EventChain.Start.ToArray());
        NoteEnd(transaction, key, transaction.Number("SELECT count(*) FROM events"), last);
    }

    /// <summary>Gives the events that were stored before each had a hash of its own theirs.</summary>
    /// <remarks>It is the one that the next event knew, so that an event that was changed meanwhile still shows.</remarks>
    public static void FillHashes(DbTransaction transaction)
    {
        var all = transaction.Rows(
            $"SELECT {EventRows.Columns}, position, length(hash) FROM events ORDER BY position",
            row => (Stored: EventRows.Of(row), Position: row.GetInt64(10), HashBytes: row.GetInt64(11)));
        for (var place = 0; place < all.Count; place++)
        {
            if (all[place].HashBytes == 0)
            {
                var hash = place + 1 < all.Count ? all[place + 1].Stored.PreviousHash.ToArray() : EventChain.HashOf(all[place].Stored);
                transaction.Execute("UPDATE events SET hash = @hash WHERE position = @position", ("@hash", hash), ("@position", all[place].Position));
            }
        }
    }

    /// <summary>Checks everything.</summary>
    public static ChainReport Run(DbTransaction transaction, ClinicKey key)
    {
        var streams = new HashSet<string>(StringComparer.Ordinal);
        var hash = EventChain.Start;
        var count = 0L;
        StoredEvent? last = null;
        using var command = transaction.Command($"SELECT {EventRows.Columns}, hash FROM events ORDER BY position");
        using var row = command.ExecuteReader();
        while (row.Read())
        {
            count++;
            if (Stored(row) is not { } read)
            {
                return new ChainReport(count, streams.Count, Unreadable(count, row));
            }

            var (stored, ownHash) = read;
            streams.Add(stored.Stream);
            var computed = EventChain.HashOf(stored);
            if (!ownHash.AsSpan().SequenceEqual(computed))
            {
                return new ChainReport(count, streams.Count, Broken(count, stored, ChainFault.Changed));
            }

            if (!stored.PreviousHash.Span.SequenceEqual(hash.Span))
            {
                return new ChainReport(count, streams.Count, Broken(count, stored, ChainFault.OutOfPlace));
            }

            hash = computed;
            last = stored;
        }

        row.Close();
        var signed = StoreValues.Get(transaction, End);
        var complete = signed is null ? count == 0 : signed == key.Sign(count, hash.Span);
        return new ChainReport(count, streams.Count, complete ? null : last is null ? NothingLeft : Broken(count, last, ChainFault.CutOff));
    }

    private static BrokenEvent NothingLeft { get; } = new(0, string.Empty, 0, string.Empty, string.Empty, null, ChainFault.CutOff);

    private static (StoredEvent Stored, byte[] Hash)? Stored(DbDataReader row)
    {
        try
        {
            return (EventRows.Of(row), (byte[])row.GetValue(10));
        }
        catch (Exception failure) when (failure is InvalidCastException or InvalidOperationException or FormatException or OverflowException)
        {
            // A damaged row can hold text where a number was, or nothing.
            return null;
        }
    }

    // Says what can still be read of it.
    private static BrokenEvent Unreadable(long number, DbDataReader row) => new(
        number,
        Text(row, 0),
        row.GetValue(1) is long version ? version : 0,
        Text(row, 2),
        Text(row, 5),
        row.GetValue(4) is long ticks ? At(ticks) : null,
        ChainFault.Changed);

    private static string Text(DbDataReader row, int column) => Convert.ToString(row.GetValue(column), CultureInfo.InvariantCulture) ?? string.Empty;

    private static DateTimeOffset? At(long utcTicks) =>
        utcTicks >= 0 && utcTicks <= DateTimeOffset.MaxValue.UtcTicks ? new DateTimeOffset(utcTicks, TimeSpan.Zero) : null;

    private static BrokenEvent Broken(long number, StoredEvent stored, ChainFault fault) => new(
        number,
        stored.Stream,
        stored.Version,
        stored.Kind,
        stored.Who,
        At(stored.UtcTicks),
        fault);
}
