using Secondpass.Domain;
using Secondpass.Records.Events;
using Secondpass.Records.Films;
using Secondpass.Records.Projections;
using Secondpass.Records.Sqlite;

namespace Secondpass.Records;

/// <summary>Everything that is kept on this computer, in one data folder: what was decided, and the films it rests on.</summary>
/// <remarks>Safe to call from several threads; a second program may use the same folder.</remarks>
public sealed class ClinicStore : IDisposable
{
    /// <summary>A film that belongs to no kept comparison is removed after this time.</summary>
    public static readonly TimeSpan UndecidedFilmsStay = TimeSpan.FromDays(1);

    private const string SettingsStream = "settings";
    private const string LocalUser = "local";

    private readonly SqliteEvents events;
    private readonly FileArchive films;
    private readonly FileArchive sheets;
    private readonly Lock changing = new();

    private ClinicStore(string folder, SqliteEvents events, FileArchive films, FileArchive sheets, CaseStore cases)
    {
        Folder = folder;
        this.events = events;
        this.films = films;
        this.sheets = sheets;
        Cases = cases;
        Clinic = new ClinicRecord(events);
    }

    /// <summary>The data folder's full path.</summary>
    public string Folder { get; }

    /// <summary>The cases.</summary>
    public CaseStore Cases { get; }

    /// <summary>The clinic itself.</summary>
    public ClinicRecord Clinic { get; }

    /// <summary>Opens a data folder, made when it is missing, and removes films there that belong to nothing and are older than <see cref="UndecidedFilmsStay"/>.</summary>
    /// <param name="folder">The folder.</param>
    /// <param name="time">The clock.</param>
    /// <returns>The store; or a refusal: not writable, written by a newer version, damaged, busy, disk full.</returns>
    public static Answer<ClinicStore> Open(string folder, TimeProvider time)
    {
        var full = Path.GetFullPath(folder);
        try
        {
            var filmFolder = Directory.CreateDirectory(Path.Combine(full, "films")).FullName;
            var sheetFolder = Directory.CreateDirectory(Path.Combine(full, "sheets")).FullName;
            var caseFolder = Directory.CreateDirectory(Path.Combine(full, "case-files")).FullName;
            File.WriteAllText(Path.Combine(full, "README.txt"), Readme.Text);
            if (!SqliteEvents.Open(Path.Combine(full, "secondpass.db"), time, [new KeptComparisonTable()]).TryGet(out var events, out var refusal))
            {
                return refusal;
            }

            var caseFiles = new FileArchive(caseFolder, time);
            var store = new ClinicStore(full, events, new FileArchive(filmFolder, time), new FileArchive(sheetFolder, time), new CaseStore(events, caseFiles, time));
            caseFiles.RemoveUnfinished();
            store.films.RemoveUnfinished();
            store.sheets.RemoveUnfinished();
            store.RemoveUndecidedFilms();
            return store;
        }
        catch (Exception failure) when (StoreRefusals.From(failure, full) is not null)
        {
            return StoreRefusals.From(failure, full)!;
        }
    }

    /// <summary>Whether the notice of the first start was accepted.</summary>
    public bool NoticeAccepted => events.Read(SettingsStream).Any(stored => stored.Kind == Events.NoticeAccepted.Kind);

    /// <summary>Notes that the notice of the first start was accepted; nothing happens the second time.</summary>
    /// <returns>The number of changes to the settings so far, or a refusal.</returns>
    public Answer<long> AcceptNotice()
    {
        lock (changing)
        {
            var soFar = events.Read(SettingsStream);
            return soFar.Any(stored => stored.Kind == Events.NoticeAccepted.Kind)
                ? soFar.Count
                : events.Append(SettingsStream, soFar.Count, LocalUser, Events.NoticeAccepted.ToNewEvent());
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

    /// <summary>Removes a film's bytes, unless a kept comparison needs them.</summary>
    /// <returns>Whether nothing needs it any more.</returns>
    public bool ThrowAwayFilm(string sha256)
    {
        lock (changing)
        {
            if (IsNeeded(sha256))
            {
                return false;
            }

            films.Remove(sha256);
            return true;
        }
    }

    /// <summary>Removes the films that belong to no kept comparison and were last received longer ago than <see cref="UndecidedFilmsStay"/>.</summary>
    public void RemoveUndecidedFilms()
    {
        lock (changing)
        {
            foreach (var sha256 in films.OlderThan(UndecidedFilmsStay).Where(sha256 => !IsNeeded(sha256)))
            {
                films.Remove(sha256);
            }

            foreach (var sha256 in sheets.OlderThan(UndecidedFilmsStay).Where(sha256 => !IsNeeded(sha256)))
            {
                sheets.Remove(sha256);
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
            if (!events.Append(KeptComparisonTable.StreamOf(id), 0, LocalUser, kept.ToNewEvent()).TryGet(out _, out refusal))
            {
                return refusal;
            }

            return FindComparison(id)!;
        }
    }

    /// <summary>The comparisons kept, newest first.</summary>
    public IReadOnlyList<KeptComparison> KeptComparisons()
    {
        using var connection = events.Connect();
        return KeptComparisonTable.All(connection);
    }

    /// <summary>A kept comparison, or null.</summary>
    public KeptComparison? FindComparison(string id)
    {
        using var connection = events.Connect();
        return KeptComparisonTable.Find(connection, id);
    }

    /// <summary>The record sheet of a kept comparison, as it was made when it was kept.</summary>
    public Answer<byte[]> ReadSheet(KeptComparison kept)
    {
        ArgumentNullException.ThrowIfNull(kept);
        return sheets.Read(kept.SheetSha256);
    }

    /// <summary>Takes a kept comparison off the list, and removes its sheet and those of its films that nothing else needs.</summary>
    /// <returns>Whether it was there; or a refusal.</returns>
    public Answer<bool> RemoveComparison(string id)
    {
        lock (changing)
        {
            if (FindComparison(id) is not { } kept)
            {
                return false;
            }

            var stream = KeptComparisonTable.StreamOf(id);
            if (!events.Append(stream, events.Read(stream).Count, LocalUser, ComparisonRemoved.ToNewEvent()).TryGet(out _, out var refusal))
            {
                return refusal;
            }

            ThrowAwayFilm(kept.BeforeSha256);
            ThrowAwayFilm(kept.AfterSha256);
            if (!IsNeeded(kept.SheetSha256))
            {
                sheets.Remove(kept.SheetSha256);
            }

            return true;
        }
    }

    /// <summary>Checks the chain of all events.</summary>
    /// <returns>How many were checked, or a refusal that names the first one that doesn't fit.</returns>
    public Answer<long> Check() => events.CheckChain();

    /// <summary>Fills the tables for reading again from the events.</summary>
    public void Rebuild() => events.Rebuild();

    /// <inheritdoc/>
    public void Dispose() => events.Dispose();

    private bool IsNeeded(string sha256)
    {
        using var connection = events.Connect();
        return KeptComparisonTable.Needs(connection, sha256);
    }
}
