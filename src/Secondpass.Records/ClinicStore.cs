using Secondpass.Domain;
using Secondpass.Records.Databases;
using Secondpass.Records.Events;
using Secondpass.Records.Films;
using Secondpass.Records.Keys;
using Secondpass.Records.Postgres;
using Secondpass.Records.Projections;
using Secondpass.Records.Sqlite;

namespace Secondpass.Records;

/// <summary>Everything that is kept on this computer, in one data folder: what was decided, and the films it rests on.</summary>
/// <remarks>Safe to call from several threads; a second program may use the same folder.</remarks>
public sealed class ClinicStore : IDisposable
{
    /// <summary>A film or another file that belongs to no case and no kept comparison is removed after this time.</summary>
    public static readonly TimeSpan UndecidedFilmsStay = TimeSpan.FromDays(1);

    // Rises when the notice says something new: it is shown again then.
    private const int NoticeWording = 1;

    private const string SettingsStream = "settings";
    private const string LocalUser = "local";

    // In this order: the uses of instruments are counted by what the table of cases knows.
    private static IReadOnlyList<IProjection> Projections { get; } =
        [new KnownKindTable(), new KeptComparisonTable(), new CaseTable(), new CaseFileTable(), new InstrumentUseTable()];

    private readonly EventLog events;
    private readonly FileArchive films;
    private readonly FileArchive sheets;
    private readonly FileArchive caseFiles;
    private readonly Lock changing = new();

    private ClinicStore(string folder, EventLog events, TimeProvider time)
    {
        Folder = folder;
        this.events = events;
        films = Archive("films");
        sheets = Archive("sheets");
        caseFiles = Archive("case-files");
        Cases = new CaseStore(events, caseFiles, time, RemoveUnneeded);
        Clinic = new ClinicRecord(events);
        NewFilms = new NewFilmRecord(events);

        FileArchive Archive(string name) => new(Path.Combine(folder, name), time);
    }

    /// <summary>The data folder's full path.</summary>
    public string Folder { get; }

    /// <summary>The cases.</summary>
    public CaseStore Cases { get; }

    /// <summary>The clinic itself.</summary>
    public ClinicRecord Clinic { get; }

    /// <summary>What is noted about films that belong to no case yet.</summary>
    public NewFilmRecord NewFilms { get; }

    /// <summary>Opens a data folder, made when it is missing, and removes films there that belong to nothing and are older than <see cref="UndecidedFilmsStay"/>.</summary>
    /// <param name="folder">The folder.</param>
    /// <param name="time">The clock.</param>
    /// <param name="address">Where the events are: null for an SQLite database in the folder, or the address of a PostgreSQL database. Files stay in the folder.</param>
    /// <returns>The store; or a refusal: not writable, written by a newer version, damaged, busy, disk full, not reached, clinic key missing or wrong.</returns>
    public static Answer<ClinicStore> Open(string folder, TimeProvider time, string? address = null)
    {
        var full = Path.GetFullPath(folder);
        if (!DatabaseAt(full, address).TryGet(out var database, out var wrong))
        {
            return wrong;
        }

        try
        {
            foreach (var name in (string[])["films", "sheets", "case-files"])
            {
                Directory.CreateDirectory(Path.Combine(full, name));
            }

            File.WriteAllText(Path.Combine(full, "README.txt"), Readme.Text);
            if (!EventLog.Open(database, full, time, Projections).TryGet(out var events, out var refusal))
            {
                return refusal;
            }

            var store = new ClinicStore(full, events, time);
            store.films.RemoveUnfinished();
            store.sheets.RemoveUnfinished();
            store.caseFiles.RemoveUnfinished();
            store.RemoveUndecidedFilms();
            return store;
        }
        catch (Exception failure) when (StoreRefusals.From(failure, full) is not null)
        {
            return StoreRefusals.From(failure, full)!;
        }
    }

    /// <summary>Opens a data folder to be read only: no byte of it changes, and what an older version wrote is not brought up to date.</summary>
    /// <param name="folder">The folder.</param>
    /// <param name="time">The clock.</param>
    /// <param name="address">As for <see cref="Open"/>.</param>
    /// <returns>The store, of which nothing that changes it may be called; or a refusal: nothing there, written by an older or a newer version, damaged, busy, not reached, clinic key missing or wrong.</returns>
    public static Answer<ClinicStore> OpenToRead(string folder, TimeProvider time, string? address = null)
    {
        var full = Path.GetFullPath(folder);
        var file = DatabaseFile(full);
        if (address is null && !File.Exists(file))
        {
            return StoreRefusals.NoStore(full);
        }

        IDatabase database = SqliteDatabase.ToRead(file);
        if (address is not null && !DatabaseAt(full, address).TryGet(out database!, out var wrong))
        {
            return wrong;
        }

        return EventLog.OpenToRead(database, full, time).TryGet(out var events, out var refusal)
            ? new ClinicStore(full, events, time)
            : refusal;
    }

    /// <summary>Whether the notice of the first start was accepted.</summary>
    public bool NoticeAccepted => events.Read(Accepted);

    /// <summary>Notes that the notice of the first start was accepted; nothing happens the second time.</summary>
    /// <returns>The number of changes to the settings so far, or a refusal.</returns>
    public Answer<long> AcceptNotice()
    {
        lock (changing)
        {
            return events.Write<long>(writer =>
            {
                if (!Accepted(writer))
                {
                    writer.Append(SettingsStream, new Author(LocalUser, events.Device), null, new NoticeAccepted(NoticeWording));
                }

                return writer.VersionOf(SettingsStream);
            });
        }
    }

    /// <summary>Stores a film's original bytes.</summary>
    /// <returns>Their SHA-256, or a refusal: disk full, not writable.</returns>
    public Answer<string> KeepFilm(ReadOnlySpan<byte> bytes)
    {
        lock (changing)
        {
            return films.Keep(bytes);
        }
    }

    /// <summary>Reads a film's original bytes.</summary>
    /// <returns>The bytes, or a refusal: not here, damaged.</returns>
    public Answer<byte[]> ReadFilm(string sha256) => films.Read(sha256);

    /// <summary>Removes a film's bytes, unless a case or a kept comparison needs them, or they are in use.</summary>
    /// <param name="sha256">The film.</param>
    /// <param name="inUse">Whether a film is in use that may be kept nowhere; null where none is.</param>
    /// <returns>Whether nothing needs it any more.</returns>
    public bool ThrowAwayFilm(string sha256, Predicate<string>? inUse = null)
    {
        lock (changing)
        {
            if (IsNeeded(sha256) || inUse?.Invoke(sha256) == true)
            {
                return false;
            }

            films.Remove(sha256);
            return true;
        }
    }

    /// <summary>Removes the films and other files that belong to no case and no kept comparison and were last received longer ago than <see cref="UndecidedFilmsStay"/>.</summary>
    public void RemoveUndecidedFilms()
    {
        lock (changing)
        {
            foreach (var archive in (FileArchive[])[films, sheets, caseFiles])
            {
                foreach (var sha256 in archive.OlderThan(UndecidedFilmsStay).Where(sha256 => !IsNeeded(sha256)))
                {
                    archive.Remove(sha256);
                }
            }
        }
    }

    /// <summary>Keeps a comparison.</summary>
    /// <param name="label">The dentist's label; not empty.</param>
    /// <param name="beforeSha256">The film before, whose bytes are stored.</param>
    /// <param name="afterSha256">The film after, whose bytes are stored.</param>
    /// <param name="caseDocument">What was entered, as JSON.</param>
    /// <param name="comparisonDocument">What came out, as JSON.</param>
    /// <param name="sheet">The record sheet's bytes.</param>
    /// <returns>What was kept; or a refusal: a film is not stored any more, disk full.</returns>
    public Answer<KeptComparison> KeepComparison(
        string label,
        string beforeSha256,
        string afterSha256,
        string caseDocument,
        string comparisonDocument,
        ReadOnlySpan<byte> sheet)
    {
        lock (changing)
        {
            if (!films.Read(beforeSha256).TryGet(out _, out var missing) || !films.Read(afterSha256).TryGet(out _, out missing))
            {
                return missing;
            }

            if (!sheets.Keep(sheet).TryGet(out var sheetSha256, out var refusal))
            {
                return refusal;
            }

            var id = Identity.New();
            var kept = new ComparisonKept(label, beforeSha256, afterSha256, caseDocument, comparisonDocument, sheetSha256);
            if (!events.Append(KeptComparisonTable.StreamOf(id), 0, LocalUser, kept).TryGet(out _, out refusal))
            {
                return refusal;
            }

            return FindComparison(id)!;
        }
    }

    /// <summary>The comparisons kept, newest first.</summary>
    public IReadOnlyList<KeptComparison> KeptComparisons() => events.Read(reader => KeptComparisonTable.All(reader.Transaction));

    /// <summary>A kept comparison, or null.</summary>
    public KeptComparison? FindComparison(string id) => events.Read(reader => KeptComparisonTable.Find(reader.Transaction, id));

    /// <summary>The record sheet of a kept comparison, as it was made when it was kept.</summary>
    public Answer<byte[]> ReadSheet(KeptComparison kept)
    {
        ArgumentNullException.ThrowIfNull(kept);
        return sheets.Read(kept.SheetSha256);
    }

    /// <summary>Takes a kept comparison off the list, and removes its sheet and those of its films that nothing else needs.</summary>
    /// <param name="id">The comparison.</param>
    /// <param name="inUse">As for <see cref="ThrowAwayFilm"/>.</param>
    /// <returns>Whether it was there; or a refusal.</returns>
    public Answer<bool> RemoveComparison(string id, Predicate<string>? inUse = null)
    {
        lock (changing)
        {
            if (FindComparison(id) is not { } kept)
            {
                return false;
            }

            var stream = KeptComparisonTable.StreamOf(id);
            if (!events.Append(stream, events.Read(stream).Count, LocalUser, new ComparisonRemoved()).TryGet(out _, out var refusal))
            {
                return refusal;
            }

            string[] held = [kept.BeforeSha256, kept.AfterSha256, kept.SheetSha256];
            RemoveUnneeded([.. held.Where(sha256 => inUse?.Invoke(sha256) != true)]);
            return true;
        }
    }

    /// <summary>The recovery sheet to print: the clinic key in groups with a check character each.</summary>
    public string RecoverySheet() => Keys.RecoverySheet.Text(events.Key);

    /// <summary>Puts the clinic key into a data folder again; a key file that is there already is put aside under another name.</summary>
    /// <param name="folder">The data folder.</param>
    /// <param name="sheet">The recovery sheet, or its groups alone.</param>
    /// <param name="time">The clock.</param>
    /// <returns>The key's fingerprint as it stands on the sheet; or a refusal: a group is misread, not writable. Whether it is the right key shows when the store is opened.</returns>
    public static Answer<string> RestoreKey(string folder, string sheet, TimeProvider time)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        ArgumentNullException.ThrowIfNull(time);
        if (!RecoveryCode.Read(sheet).TryGet(out var bytes, out var refusal))
        {
            return refusal;
        }

        var full = Path.GetFullPath(folder);
        try
        {
            Directory.CreateDirectory(full);
            var file = new ClinicKeyFile(full);
            var key = new ClinicKey(bytes);
            file.PutAside(time.GetUtcNow());
            file.Write(key);
            return key.Fingerprint;
        }
        catch (Exception failure) when (StoreRefusals.From(failure, full) is not null)
        {
            return StoreRefusals.From(failure, full)!;
        }
    }

    /// <summary>Checks the chain of all events.</summary>
    /// <returns>What was found; or a refusal: the store can't be read at all.</returns>
    public Answer<ChainReport> Check() => events.CheckChain();

    /// <summary>Checks every kept file against the SHA-256 that it is named by, and that none is missing.</summary>
    public FileReport CheckFiles()
    {
        (string Name, FileArchive Files)[] archives = [("films", films), ("sheets", sheets), ("case-files", caseFiles)];
        var kept = archives.SelectMany(archive => archive.Files.All().Select(sha256 => (archive.Name, archive.Files, Sha256: sha256))).ToArray();
        var needed = events.Read(reader => KeptComparisonTable.AllFiles(reader.Transaction).Concat(CaseFileTable.AllFiles(reader.Transaction)).ToHashSet(StringComparer.Ordinal));
        return new FileReport(
            kept.Length,
            [.. kept.Where(one => !one.Files.Read(one.Sha256).IsGiven).Select(one => $"{one.Name}/{one.Sha256}")],
            [.. needed.Except(kept.Select(one => one.Sha256)).Order(StringComparer.Ordinal)]);
    }

    /// <summary>Fills the tables for reading again from the events.</summary>
    /// <returns>How many events were read; or a refusal: an event is damaged, busy, disk full.</returns>
    public Answer<long> Rebuild() => events.Rebuild();

    /// <inheritdoc/>
    public void Dispose() => events.Dispose();

    private static string DatabaseFile(string folder) => Path.Combine(folder, "secondpass.db");

    private static Answer<IDatabase> DatabaseAt(string folder, string? address)
    {
        if (address is null)
        {
            return new SqliteDatabase(DatabaseFile(folder));
        }

        return PostgresDatabase.From(address).TryGet(out var database, out var refusal) ? database : refusal;
    }

    private static bool Accepted(EventReader reader) => reader
        .Decode<object>(reader.Read(SettingsStream)).Value
        .Any(happened => happened is NoticeAccepted { Notice: >= NoticeWording });

    private bool IsNeeded(string sha256) => events.Read(reader =>
        KeptComparisonTable.Needs(reader.Transaction, sha256) || CaseFileTable.Needs(reader.Transaction, sha256));

    private void RemoveUnneeded(IReadOnlyList<string> hashes)
    {
        lock (changing)
        {
            foreach (var sha256 in hashes.Where(sha256 => !IsNeeded(sha256)))
            {
                films.Remove(sha256);
                sheets.Remove(sha256);
                caseFiles.Remove(sha256);
            }
        }
    }
}
