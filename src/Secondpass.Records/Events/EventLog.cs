using System.Data.Common;
using Secondpass.Domain;
using Secondpass.Records.Databases;
using Secondpass.Records.Keys;

namespace Secondpass.Records.Events;

/// <summary>The events of one clinic, with the tables that follow them.</summary>
internal sealed class EventLog : IDisposable
{
    private const string ClinicKeyValue = "clinic_key";
    private const string DeviceValue = "device";

    private readonly IDatabase database;
    private readonly TimeProvider time;
    private readonly IReadOnlyList<IProjection> projections;
    private readonly ClinicKey key;
    private readonly PatientKeys keys;
    private readonly bool readsOnly;

    private EventLog(IDatabase database, TimeProvider time, IReadOnlyList<IProjection> projections, ClinicKey key, string device, bool readsOnly)
    {
        this.database = database;
        this.time = time;
        this.projections = projections;
        this.key = key;
        keys = new PatientKeys(key);
        this.readsOnly = readsOnly;
        Device = device;
    }

    /// <summary>The device that events are noted on when no other is named: this store itself.</summary>
    public string Device { get; }

    /// <summary>The clinic key.</summary>
    public ClinicKey Key => key;

    /// <summary>Opens the events, and brings the database to this version's shape after copying it aside.</summary>
    /// <param name="database">The database; disposed with the events, also when they are refused.</param>
    /// <param name="folder">The data folder, which holds the clinic key.</param>
    /// <param name="time">The clock.</param>
    /// <param name="projections">The tables that follow the events.</param>
    /// <returns>The events; or a refusal: newer, damaged, busy, not writable, disk full, not reached, key missing, wrong or unreadable.</returns>
    public static Answer<EventLog> Open(IDatabase database, string folder, TimeProvider time, IReadOnlyList<IProjection> projections)
    {
        var opened = Guarded(database, () => Prepare(database, folder, time, projections));
        if (!opened.IsGiven)
        {
            database.Dispose();
        }

        return opened;
    }

    /// <summary>Opens the events to be read only: nothing is made, brought up to date or changed.</summary>
    /// <param name="database">The database; disposed with the events, also when they are refused.</param>
    /// <param name="folder">The data folder, which holds the clinic key.</param>
    /// <param name="time">The clock.</param>
    /// <returns>The events; or a refusal: nothing there, older, newer, damaged, busy, not reached, key missing, wrong or unreadable.</returns>
    public static Answer<EventLog> OpenToRead(IDatabase database, string folder, TimeProvider time)
    {
        var opened = Guarded(database, () => Look(database, folder, time));
        if (!opened.IsGiven)
        {
            database.Dispose();
        }

        return opened;
    }

    /// <summary>Appends events to a stream, and takes them into the projections, all or nothing.</summary>
    /// <param name="stream">The stream.</param>
    /// <param name="expectedVersion">The version that the change was made to; 0 for a new stream.</param>
    /// <param name="who">Who did it.</param>
    /// <param name="happened">What happened, in order.</param>
    /// <returns>The stream's new version; or a refusal: changed meanwhile, busy, disk full.</returns>
    public Answer<long> Append(string stream, long expectedVersion, string who, params IReadOnlyList<object> happened) => Write<long>(writer =>
    {
        var found = writer.VersionOf(stream);
        if (found != expectedVersion)
        {
            return StoreRefusals.ChangedMeanwhile(stream, expectedVersion, found);
        }

        foreach (var one in happened)
        {
            writer.Append(stream, new Author(who, Device), null, one);
        }

        return expectedVersion + happened.Count;
    });

    /// <summary>Carries out a change: reading and appending in one transaction, which only an answer that is given completes.</summary>
    /// <typeparam name="T">What the change answers.</typeparam>
    /// <param name="change">The change.</param>
    /// <returns>Its answer; or a refusal: busy, disk full, not reached.</returns>
    public Answer<T> Write<T>(Func<EventWriter, Answer<T>> change)
        where T : notnull => Guarded(database, () =>
    {
        using var connection = database.Connect();
        using var transaction = BeginWrite(connection);
        var writer = new EventWriter(transaction, keys, time, projections);
        var answer = change(writer);
        if (answer.IsGiven)
        {
            if (writer.Position is { } position)
            {
                ChainCheck.NoteEnd(transaction, key, position, writer.LastHash);
            }

            Failpoints.At(Failpoints.BeforeCommit);
            transaction.Commit();
            Failpoints.At(Failpoints.AfterCommit);
        }

        return answer;
    });

    /// <summary>Reads one state of everything.</summary>
    /// <typeparam name="T">What is read.</typeparam>
    /// <exception cref="RefusedException">The store can't be reached or read.</exception>
    public T Read<T>(Func<EventReader, T> read)
    {
        try
        {
            using var connection = database.Connect();
            using var transaction = database.BeginRead(connection);
            return read(new EventReader(transaction, keys));
        }
        catch (Exception failure) when (database.RefusalFrom(failure) is not null)
        {
            throw new RefusedException(database.RefusalFrom(failure)!, failure);
        }
    }

    /// <summary>Reads one state of everything, where not being able to is an answer too.</summary>
    /// <typeparam name="T">What is read.</typeparam>
    public Answer<T> TryRead<T>(Func<EventReader, Answer<T>> read)
        where T : notnull
    {
        try
        {
            return Read(read);
        }
        catch (RefusedException failure)
        {
            return failure.Refusal;
        }
    }

    /// <summary>The events of one stream, oldest first.</summary>
    public IReadOnlyList<StoredEvent> Read(string stream) => Read(reader => reader.Read(stream));

    /// <summary>Checks that every event still is what was stored, in its order, and that none is missing at the end.</summary>
    /// <returns>What was found; or a refusal: not reached, damaged as a whole.</returns>
    public Answer<ChainReport> CheckChain() => TryRead<ChainReport>(reader => ChainCheck.Run(reader.Transaction, key));

    /// <summary>Empties the projections and fills them again from all events, in one transaction.</summary>
    /// <returns>How many events were read; or a refusal: an event is damaged, busy, disk full.</returns>
    public Answer<long> Rebuild() => Guarded(database, () =>
    {
        using var connection = database.Connect();
        using var transaction = BeginWrite(connection);
        var answer = Rebuild(new EventReader(transaction, keys), projections);
        if (answer.IsGiven)
        {
            transaction.Commit();
        }

        return answer;
    });

    /// <summary>Makes sure, before the change that destroys keys is complete, that they don't linger in the database's own files.</summary>
    /// <returns>Null; or the refusal that the change has to answer with.</returns>
    public Refusal? ScrubKeys(EventWriter writer) => database.ScrubKeys(writer.Transaction);

    /// <summary>Empties the log of changes once it is complete.</summary>
    public void EmptyLog() => database.EmptyLog();

    /// <inheritdoc/>
    public void Dispose() => database.Dispose();

    private DbTransaction BeginWrite(DbConnection connection) =>
        readsOnly ? throw new InvalidOperationException("These events were opened to be read only.") : database.BeginWrite(connection);

    private static Answer<EventLog> Look(IDatabase database, string folder, TimeProvider time)
    {
        using var connection = database.Connect();
        var steps = new Migrations(database);
        var reached = steps.Reached(connection);
        if (reached != steps.Newest)
        {
            return reached == 0 ? StoreRefusals.NoStore(database.Name)
                : reached > steps.Newest ? StoreRefusals.NewerStore(database.Name, reached, steps.Newest)
                : StoreRefusals.OlderStore(database.Name, reached, steps.Newest);
        }

        using var transaction = database.BeginRead(connection);
        if (NewerKind(transaction, database) is { } newer)
        {
            return newer;
        }

        var file = new ClinicKeyFile(folder);
        var (key, unreadable) = file.Read();
        if (unreadable is not null)
        {
            return unreadable;
        }

        if (key is null)
        {
            return StoreRefusals.KeyMissing(file.Path, database.Name);
        }

        return StoreValues.Get(transaction, ClinicKeyValue) == key.Fingerprint
            ? new EventLog(database, time, [], key, StoreValues.Get(transaction, DeviceValue) ?? string.Empty, readsOnly: true)
            : StoreRefusals.KeyWrong(file.Path, database.Name);
    }

    private static Refusal? NewerKind(DbTransaction transaction, IDatabase database)
    {
        var newer = transaction
            .Rows("SELECT kind, kind_version FROM event_kinds ORDER BY kind, kind_version", row => (Kind: row.GetString(0), Version: (int)row.GetInt64(1)))
            .Where(one => !(EventKinds.Find(one.Kind)?.Version >= one.Version))
            .ToArray();
        return newer.Length > 0 ? StoreRefusals.NewerKind(database.Name, newer[0].Kind, newer[0].Version) : null;
    }

    private static Answer<EventLog> Prepare(IDatabase database, string folder, TimeProvider time, IReadOnlyList<IProjection> projections)
    {
        using var connection = database.Connect();
        var steps = new Migrations(database);
        var reached = steps.Reached(connection);
        if (reached > steps.Newest)
        {
            return StoreRefusals.NewerStore(database.Name, reached, steps.Newest);
        }

        if (reached > 0 && reached < steps.Newest)
        {
            database.CopyBefore(connection, reached, time.GetUtcNow());
        }

        using var transaction = database.BeginWrite(connection);
        var changed = steps.Run(transaction, time.GetUtcNow().UtcTicks, steps.Newest);
        if (changed)
        {
            ChainCheck.FillHashes(transaction);
        }

        if (NewerKind(transaction, database) is { } newer)
        {
            return newer;
        }

        var device = StoreValues.GetOrSet(transaction, DeviceValue, Identity.New);
        if (!OpenKey(transaction, database, new ClinicKeyFile(folder)).TryGet(out var key, out var refusal))
        {
            return refusal;
        }

        if (changed)
        {
            ChainCheck.NoteEnd(transaction, key);
            if (!Rebuild(new EventReader(transaction, new PatientKeys(key)), projections).TryGet(out _, out refusal))
            {
                return refusal;
            }
        }

        transaction.Commit();
        return new EventLog(database, time, projections, key, device, readsOnly: false);
    }

    private static Answer<ClinicKey> OpenKey(DbTransaction transaction, IDatabase database, ClinicKeyFile file)
    {
        var expected = StoreValues.Get(transaction, ClinicKeyValue);
        file.KeepToItsOwner();
        var (key, unreadable) = file.Read();
        if (unreadable is not null)
        {
            return unreadable;
        }

        if (key is null)
        {
            if (expected is not null)
            {
                return StoreRefusals.KeyMissing(file.Path, database.Name);
            }

            file.Write(ClinicKey.New());
            key = file.Read().Key!;
        }

        if (expected is not null && expected != key.Fingerprint)
        {
            return StoreRefusals.KeyWrong(file.Path, database.Name);
        }

        StoreValues.Set(transaction, ClinicKeyValue, key.Fingerprint);
        return key;
    }

    private static Answer<long> Rebuild(EventReader reader, IReadOnlyList<IProjection> projections)
    {
        foreach (var projection in projections)
        {
            projection.Clear(reader.Transaction);
        }

        var all = reader.Transaction.Rows($"SELECT {EventRows.Columns} FROM events ORDER BY position", EventRows.Of);
        foreach (var stored in all)
        {
            object? happened = null;
            if (EventKinds.Find(stored.Kind) is not null && !reader.Decode(stored).TryGet(out happened, out var refusal) && refusal.Code != StoreRefusals.PatientForgotten().Code)
            {
                return refusal;
            }

            foreach (var projection in projections)
            {
                projection.Apply(new Happening(reader.Transaction, stored, happened, happened is null ? null : reader.KeyOf(stored)));
            }
        }

        return (long)all.Count;
    }

    private static Answer<T> Guarded<T>(IDatabase database, Func<Answer<T>> work)
        where T : notnull
    {
        try
        {
            return work();
        }
        catch (Exception failure) when (database.RefusalFrom(failure) is not null)
        {
            return database.RefusalFrom(failure)!;
        }
    }
}
