using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Films;
using Secondpass.Job.Cases;
using Secondpass.Radiographs.Identify;
using Secondpass.Radiographs.Read;
using Secondpass.Records;
using Secondpass.Records.Events;

namespace Secondpass.Job.Incoming;

/// <summary>Where an import stands.</summary>
public enum ImportState
{
    /// <summary>Files are being looked at; nothing is stored.</summary>
    Looking,

    /// <summary>All were looked at, and nothing was stored yet.</summary>
    Ready,

    /// <summary>Films are being stored.</summary>
    Storing,

    /// <summary>It is done, or was stopped.</summary>
    Done,
}

/// <summary>One import: a table of files, and afterwards what became of each.</summary>
/// <remarks>Safe to call from several threads.</remarks>
public sealed class FilmImport
{
    private readonly IReadOnlyList<ImportedFile> files;
    private readonly ClinicStore store;
    private readonly AttachNewFilm attach;
    private readonly Lock changing = new();
    private readonly List<ImportRow> rows = [];
    private Task work = Task.CompletedTask;
    private volatile bool stopped;
    private ImportState state;
    private Refusal? trouble;

    internal FilmImport(string id, int number, string? folder, IReadOnlyList<ImportedFile> files, ClinicStore store, AttachNewFilm attach)
    {
        (Id, Number, Folder, this.files, this.store, this.attach) = (id, number, folder, files, store, attach);
    }

    /// <summary>Its identity for as long as the program runs.</summary>
    public string Id { get; }

    /// <summary>The folder that is imported; null for files that a page sent.</summary>
    public string? Folder { get; }

    /// <summary>How many files there are.</summary>
    public int FileCount => files.Count;

    /// <summary>How it stands, all of one moment.</summary>
    public ImportNow Now
    {
        get
        {
            lock (changing)
            {
                return new ImportNow(state, [.. rows], stopped, trouble);
            }
        }
    }

    internal int Number { get; }

    /// <summary>Stops after the file that is being read or stored; what was stored stays, and what was only looked at is not stored any more.</summary>
    public void Stop()
    {
        lock (changing)
        {
            stopped = true;
            state = state == ImportState.Ready ? ImportState.Done : state;
        }
    }

    /// <summary>Stores films into the cases that were chosen for them, one after the other.</summary>
    /// <param name="choices">The case and the moment by the place of the row in <see cref="ImportNow.Rows"/>, from 0; a row without one is not stored.</param>
    /// <param name="by">Who imports them.</param>
    /// <returns>How many are to be stored; or a refusal: files are still being looked at, it was imported already, no case was chosen.</returns>
    public Answer<int> Store(IReadOnlyDictionary<int, ImportChoice> choices, Writer by)
    {
        ArgumentNullException.ThrowIfNull(choices);
        ArgumentNullException.ThrowIfNull(by);
        lock (changing)
        {
            if (state != ImportState.Ready)
            {
                return new Refusal(
                    "import_not_ready",
                    state == ImportState.Looking ? "The files are still being looked at." : "These films were imported already, or are being imported.",
                    "Wait until the page shows them all.");
            }

            var chosen = rows.Select((row, place) => (row, place)).Count(one => one.row.MayBeStored && choices.ContainsKey(one.place));
            if (chosen == 0)
            {
                return new Refusal("no_case_chosen", "No case was chosen for any film; nothing was stored.", "Choose a case for each film that is to be imported.");
            }

            state = ImportState.Storing;
            work = Task.Run(() => Unbroken(() => StoreAll(choices, by)));
            return chosen;
        }
    }

    /// <summary>A small picture of one of its films, to tell it from others; read anew each time, for old films are many.</summary>
    /// <param name="place">The place of its row in <see cref="ImportNow.Rows"/>, from 0.</param>
    /// <returns>The bytes of an 8-bit grey PNG file; or a refusal: no such row, a file that can't be read, or is not the one that was looked at.</returns>
    public Answer<ReadOnlyMemory<byte>> Picture(int place)
    {
        ImportRow? row;
        lock (changing)
        {
            row = rows.ElementAtOrDefault(place);
        }

        if (row is null || !row.MayBeStored)
        {
            return NotShown($"Row {place} of this import is no film that can be shown.");
        }

        if (!files[place].Read().TryGet(out var bytes, out var refusal) || !FilmFile.Look(bytes).TryGet(out var seen, out refusal))
        {
            return refusal;
        }

        return seen.Sha256 == row.Sha256 ? seen.Picture : NotShown($"“{row.Name}” was changed since it was looked at.");

        static Refusal NotShown(string reason) => new("no_picture_of_import", reason, "Begin the import again.");
    }

    /// <summary>Waits until what was begun is done: looking, or storing.</summary>
    public Task Finished() => work;

    internal void BeginLooking() => work = Task.Run(() => Unbroken(LookAtAll));

    // Nobody waits for it: what the store refuses is told on the page.
    private void Unbroken(Action part)
    {
        try
        {
            part();
        }
        catch (RefusedException failure)
        {
            Become(ImportState.Done, failure.Refusal);
        }
    }

    private void LookAtAll()
    {
        var cases = store.Cases.List();
        var first = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var file in files)
        {
            if (stopped)
            {
                Become(ImportState.Done);
                return;
            }

            var row = Look(file, cases, first);
            lock (changing)
            {
                rows.Add(row);
            }
        }

        lock (changing)
        {
            state = stopped ? ImportState.Done : ImportState.Ready;
        }
    }

    private ImportRow Look(ImportedFile file, IReadOnlyList<CaseLine> cases, Dictionary<string, string> first)
    {
        var row = new ImportRow(file.Name, null, file.Written, StatedIdentity.None, null, null, null, [], null);
        if (!file.Read().TryGet(out var bytes, out var refusal))
        {
            return row with { Unreadable = refusal };
        }

        var sha256 = FilmFile.Sha256Of(bytes);
        row = row with { Sha256 = sha256 };
        if (first.TryGetValue(sha256, out var same))
        {
            return row with { SameAs = same };
        }

        if (!FilmReader.Read(bytes).TryGet(out _, out refusal))
        {
            return row with { Unreadable = refusal };
        }

        first[sha256] = file.Name;
        row = row with { Stated = IdentityReader.Read(bytes), InCase = store.Cases.FindFilm(sha256) is { } already ? new NamedCase(already.Id, already.PatientNumber, already.Tooth) : null };
        if (row.InCase is not null || CaseOfFilm.Find(row.Stated, cases) is not { } id || !store.Cases.Read(id).TryGet(out var it, out _))
        {
            return row;
        }

        var differences = FilmsOfCase.Compare(it, row.Stated);
        return differences.MustBeConfirmed ? row with { Differences = differences.Sentences } : row with { Case = id };
    }

    private void StoreAll(IReadOnlyDictionary<int, ImportChoice> choices, Writer by)
    {
        for (var place = 0; place < files.Count; place++)
        {
            var row = Now.Rows[place];
            if (!row.MayBeStored)
            {
                continue;
            }

            var outcome = !choices.TryGetValue(place, out var choice)
                ? new ImportOutcome(null, new Refusal("no_case_chosen", "No case was chosen.", "Attach it on the page of its case."))
                : stopped
                    ? new ImportOutcome(null, new Refusal("import_stopped", "The import was stopped before it.", "Begin the import again."))
                    : Store(place, row, choice, by);
            lock (changing)
            {
                rows[place] = row with { Outcome = outcome };
            }
        }

        Become(ImportState.Done);
    }

    private ImportOutcome Store(int place, ImportRow row, ImportChoice choice, Writer by)
    {
        if (!files[place].Read().TryGet(out var bytes, out var refusal)
            || !attach.Attach(choice.Case, new FilmToAttach(row.Name, row.Sha256!, bytes, row.Stated), choice.Taken, Confirmation.None, by).TryGet(out var it, out refusal))
        {
            return new ImportOutcome(null, refusal.Code == FilmsOfCase.OfAnother
                ? refusal with { Remedy = "If it belongs to this case all the same, choose its file under Films and photographs of the case, and say why." }
                : refusal);
        }

        return new ImportOutcome(new NamedCase(it.Id, it.Patient.Number, it.Tooth), null);
    }

    private void Become(ImportState next, Refusal? broken = null)
    {
        lock (changing)
        {
            (state, trouble) = (next, broken);
        }
    }
}

/// <summary>How an import stands.</summary>
/// <param name="State">Where it stands.</param>
/// <param name="Rows">The files looked at so far, in the order of their names.</param>
/// <param name="WasStopped">Whether it was stopped before its end.</param>
/// <param name="Trouble">What broke it off; null when nothing did.</param>
public sealed record ImportNow(ImportState State, IReadOnlyList<ImportRow> Rows, bool WasStopped, Refusal? Trouble);

/// <summary>Which case a film goes to, and when it was taken.</summary>
/// <param name="Case">The case.</param>
/// <param name="Taken">When it was taken, and from where.</param>
public readonly record struct ImportChoice(CaseId Case, FilmTaken Taken);

/// <summary>One file of an import.</summary>
/// <param name="Name">Its name, with the folders in between.</param>
/// <param name="Sha256">SHA-256 of its content; null when not even that could be read.</param>
/// <param name="Written">When it was written, UTC; null where that is not known.</param>
/// <param name="Stated">What it says of whom it shows.</param>
/// <param name="Unreadable">Why it can't be read; null when it can.</param>
/// <param name="SameAs">The name of a file above with the same content; null when there is none.</param>
/// <param name="InCase">The case that it belongs to already; null when to none.</param>
/// <param name="Differences">In which points it differs from the one case that its number and tooth name; that case is not proposed then.</param>
/// <param name="Case">The one case that it names, and that is proposed; null when it has to be chosen.</param>
public sealed record ImportRow(
    string Name,
    string? Sha256,
    DateTimeOffset? Written,
    StatedIdentity Stated,
    Refusal? Unreadable,
    string? SameAs,
    NamedCase? InCase,
    IReadOnlyList<string> Differences,
    CaseId? Case)
{
    /// <summary>What became of it; null before it was stored or passed over.</summary>
    public ImportOutcome? Outcome { get; init; }

    /// <summary>Whether it is a film that belongs to no case yet.</summary>
    public bool MayBeStored => Unreadable is null && SameAs is null && InCase is null;
}

/// <summary>A case by its patient and tooth.</summary>
/// <param name="Id">The case.</param>
/// <param name="PatientNumber">The clinic's own patient number.</param>
/// <param name="Tooth">The tooth.</param>
public sealed record NamedCase(CaseId Id, string PatientNumber, ToothNumber Tooth);

/// <summary>What became of a film: stored, or why not.</summary>
/// <param name="Stored">Where it is now; null when it was not stored.</param>
/// <param name="Refusal">Why it was not stored; null when it was.</param>
public sealed record ImportOutcome(NamedCase? Stored, Refusal? Refusal);
