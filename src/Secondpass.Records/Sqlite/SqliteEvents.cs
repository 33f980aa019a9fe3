using System.Globalization;
using Microsoft.Data.Sqlite;
using Secondpass.Domain;
using Secondpass.Records.Events;

namespace Secondpass.Records.Sqlite;

/// <summary>The events of one data folder in an SQLite file, with the tables that follow them.</summary>
/// <remarks>Writers wait for each other up to five seconds; readers never wait.</remarks>
internal sealed class SqliteEvents : IDisposable
{
    private readonly string file;
    private readonly string connectionText;
    private readonly TimeProvider time;
    private readonly IReadOnlyList<IProjection> projections;
    private string device = string.Empty;

    private SqliteEvents(string file, TimeProvider time, IReadOnlyList<IProjection> projections)
    {
        this.file = file;
        this.time = time;
        this.projections = projections;
        connectionText = new SqliteConnectionStringBuilder { DataSource = file, DefaultTimeout = 5, ForeignKeys = true }.ToString();
    }

    /// <summary>Opens the file, made when it is missing, and brings it to this version's shape.</summary>
    /// <returns>The events; or a refusal: newer, damaged, busy, not writable, disk full.</returns>
    public static Answer<SqliteEvents> Open(string file, TimeProvider time, IReadOnlyList<IProjection> projections)
    {
        var events = new SqliteEvents(file, time, projections);
        try
        {
            if (events.Prepare() is { } refusal)
            {
                events.Dispose();
                return refusal;
            }

            return events;
        }
        catch (SqliteException failure) when (StoreRefusals.From(failure, file) is not null)
        {
            events.Dispose();
            return StoreRefusals.From(failure, file)!;
        }
    }

    /// <summary>Appends events to a stream, and takes them into the projections, all or nothing.</summary>
    /// <param name="stream">The stream.</param>
    /// <param name="expectedVersion">The version that the change was made to; 0 for a new stream.</param>
    /// <param name="who">Who did it.</param>
    /// <param name="added">What happened, in order.</param>
    /// <returns>The stream's new version; or a refusal: changed meanwhile, busy, disk full.</returns>
    public Answer<long> Append(string stream, long expectedVersion, string who, params IReadOnlyList<NewEvent> added)
    {
        return Write<long>(writer =>
        {
            var found = writer.VersionOf(stream);
            if (found != expectedVersion)
            {
                return StoreRefusals.ChangedMeanwhile(stream, expectedVersion, found);
            }

            foreach (var one in added)
            {
                writer.Append(stream, who, device, null, one);
            }

            return expectedVersion + added.Count;
        });
    }

    /// <summary>Carries out a change: reading and appending in one transaction, which only an answer that is given completes.</summary>
    /// <typeparam name="T">What the change answers.</typeparam>
    /// <param name="change">The change.</param>
    /// <returns>Its answer; or a refusal: busy, disk full.</returns>
    public Answer<T> Write<T>(Func<EventWriter, Answer<T>> change)
        where T : notnull
    {
        try
        {
            using var connection = Connect();
            using var transaction = connection.BeginTransaction(deferred: false);
            var answer = change(new EventWriter(transaction, time, projections));
            if (answer.IsGiven)
            {
                transaction.Commit();
            }

            return answer;
        }
        catch (SqliteException failure) when (StoreRefusals.From(failure, file) is not null)
        {
            return StoreRefusals.From(failure, file)!;
        }
    }

    /// <summary>The events of all streams whose names begin alike, in the order in which they were stored.</summary>
    public IReadOnlyList<StoredEvent> ReadAll(string streamPrefix)
    {
        using var connection = Connect();
        using var command = connection.Command(
            $"SELECT {EventRows.Columns} FROM events WHERE substr(stream, 1, @length) = @prefix ORDER BY position",
            ("@length", streamPrefix.Length),
            ("@prefix", streamPrefix));
        return [.. EventRows.Of(command)];
    }

    /// <summary>The events of one stream, oldest first.</summary>
    public IReadOnlyList<StoredEvent> Read(string stream)
    {
        using var connection = Connect();
        using var command = connection.Command($"SELECT {EventRows.Columns} FROM events WHERE stream = @stream ORDER BY version", ("@stream", stream));
        return [.. EventRows.Of(command)];
    }

    /// <summary>Checks that every event still is what its successor says it was.</summary>
    /// <returns>How many events were checked, or a refusal that names the first one that doesn't fit.</returns>
    public Answer<long> CheckChain()
    {
        using var connection = Connect();
        using var command = connection.Command($"SELECT {EventRows.Columns} FROM events ORDER BY position");
        var hash = EventChain.Start;
        var count = 0L;
        foreach (var stored in EventRows.Of(command))
        {
            count++;
            if (!stored.PreviousHash.Span.SequenceEqual(hash.Span))
            {
                return new Refusal(
                    "chain_broken",
                    string.Create(CultureInfo.InvariantCulture, $"Event {count} in “{file}” ({stored.Kind}, version {stored.Version} of “{stored.Stream}”) doesn't follow the one before it: something before it was changed, removed or put in."),
                    "Put a copy of the data folder back from your backup, and keep the damaged one for whoever examines it.",
                    new Dictionary<string, double> { ["event"] = count });
            }

            hash = EventChain.HashOf(stored);
        }

        return count;
    }

    /// <summary>Empties the projections and fills them again from all events, in one transaction.</summary>
    public void Rebuild()
    {
        using var connection = Connect();
        using var transaction = connection.BeginTransaction(deferred: false);
        foreach (var projection in projections)
        {
            projection.Clear(transaction);
        }

        List<StoredEvent> all;
        using (var command = transaction.Command($"SELECT {EventRows.Columns} FROM events ORDER BY position"))
        {
            all = [.. EventRows.Of(command)];
        }

        foreach (var stored in all)
        {
            foreach (var projection in projections)
            {
                projection.Apply(transaction, stored);
            }
        }

        transaction.Commit();
    }

    /// <summary>An open connection with this store's settings; the caller disposes it.</summary>
    public SqliteConnection Connect()
    {
        var connection = new SqliteConnection(connectionText);
        connection.Open();
        using var settings = connection.Command("PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL;");
        settings.ExecuteNonQuery();
        return connection;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        using var connection = new SqliteConnection(connectionText);
        SqliteConnection.ClearPool(connection);
    }

    private Refusal? Prepare()
    {
        using var connection = Connect();
        var reached = Migrations.Reached(connection);
        if (reached > Migrations.Newest)
        {
            return StoreRefusals.NewerStore(Path.GetDirectoryName(file)!, reached, Migrations.Newest);
        }

        using var transaction = connection.BeginTransaction(deferred: false);
        Migrations.Run(transaction, time.GetUtcNow().UtcTicks);
        transaction.Execute("INSERT OR IGNORE INTO store (name, value) VALUES ('device', @device)", ("@device", Identity.New()));
        using (var asked = transaction.Command("SELECT value FROM store WHERE name = 'device'"))
        {
            device = (string)asked.ExecuteScalar()!;
        }

        transaction.Commit();
        return null;
    }
}
