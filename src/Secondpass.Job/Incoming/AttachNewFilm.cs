using Secondpass.Domain;
using Secondpass.Domain.Cases;
using Secondpass.Job.Cases;
using Secondpass.Records;

namespace Secondpass.Job.Incoming;

/// <summary>New films are offered, attached to a case by one tap, or put aside.</summary>
/// <param name="store">Where they are kept once they are attached.</param>
/// <param name="receive">Takes a film in.</param>
/// <param name="folder">The folder that they lie in.</param>
public sealed class AttachNewFilm(ClinicStore store, ReceiveFilm receive, WatchFolder folder)
{
    // Others may note something in the case between its reading and the attaching; not as often as this.
    private const int Tries = 8;

    /// <summary>What is offered now.</summary>
    /// <param name="it">The case that is open; null when none is: then each film is offered for the case that it names.</param>
    public OfferedFilms Offered(DentalCase? it)
    {
        var now = folder.Now;
        var aside = store.NewFilms.Read().PutAside;
        var attached = store.Cases.FilesOfCases();
        var lines = it is null ? store.Cases.List() : [];
        var films = now.Films.Where(film => !attached.Contains(film.Sha256)).ToList();
        return new OfferedFilms(
            now,
            [
                .. films.Where(film => !aside.Contains(film.Sha256)).Select(film => Offer(film, it, lines))
                    .OrderByDescending(one => one.IsOfThisPatient),
            ],
            [.. films.Where(film => aside.Contains(film.Sha256))],
            [.. now.Unreadable.Where(file => file.Sha256 is null || !aside.Contains(file.Sha256))],
            now.Films.Count - films.Count);
    }

    /// <summary>When a film was taken that comes now, as far as the case tells: after the new filling, once that is noted; during removal, once the visit began; before that, before treatment.</summary>
    public static FilmMoment MomentNow(DentalCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        return it.Finishes.Values.Any(note => note.Canals.Any(canal => canal.Method is not null))
            ? FilmMoment.After
            : it.Chairside.Count > 0 ? FilmMoment.During : FilmMoment.Before;
    }

    /// <summary>A new film's small picture.</summary>
    /// <returns>The bytes of a PNG file; or a refusal: it is not there any more.</returns>
    public Answer<ReadOnlyMemory<byte>> Picture(string sha256) =>
        folder.Now.Films.FirstOrDefault(film => film.Sha256 == sha256) is { } film ? film.Picture : NotThere();

    /// <summary>What a film says of another patient or tooth than a case, one sentence a line; empty when nothing, or when it is not there any more.</summary>
    public string Differences(DentalCase it, string sha256) =>
        folder.Now.Films.FirstOrDefault(film => film.Sha256 == sha256) is { } film ? string.Join('\n', FilmsOfCase.Compare(it, film.Stated).Sentences) : string.Empty;

    /// <summary>Attaches a new film to a case; its file stays where it is.</summary>
    /// <param name="id">The case.</param>
    /// <param name="sha256">The film.</param>
    /// <param name="taken">When it was taken, and from where.</param>
    /// <param name="said">What was said to a film that speaks of another patient or tooth.</param>
    /// <param name="by">Who attaches it.</param>
    /// <returns>
    /// The case; or a refusal: it is not there any more, its file changed, it speaks of another patient or tooth and nobody said why it belongs here,
    /// <c>film_attached_already</c> when somebody else was first, disk full.
    /// </returns>
    public Answer<DentalCase> Attach(CaseId id, string sha256, FilmTaken taken, Confirmation said, Writer by)
    {
        if (folder.Now.Films.FirstOrDefault(film => film.Sha256 == sha256) is not { } film)
        {
            return NotThere();
        }

        return FilmFile.Bytes(film.Path).TryGet(out var bytes, out var refusal)
            ? Attach(id, new FilmToAttach(film.Name, sha256, bytes, film.Stated), taken, said, by)
            : new Refusal(refusal.Code, $"“{film.Name}” was not attached. {refusal.Reason}", refusal.Remedy);
    }

    /// <summary>Puts a film aside: it is not offered any more, and its file stays where it is.</summary>
    /// <returns>Whether it is put aside now; or a refusal: disk full.</returns>
    public Answer<bool> PutAside(string sha256, Writer by)
    {
        ArgumentNullException.ThrowIfNull(by);
        return store.NewFilms.PutAside(sha256, by.Author).TryGet(out _, out var refusal) ? true : refusal;
    }

    /// <summary>Offers a film again that was put aside.</summary>
    /// <returns>Whether it is put aside now; or a refusal: disk full.</returns>
    public Answer<bool> TakeBack(string sha256, Writer by)
    {
        ArgumentNullException.ThrowIfNull(by);
        return store.NewFilms.TakeBack(sha256, by.Author).TryGet(out _, out var refusal) ? false : refusal;
    }

    /// <summary>Attaches a film whose bytes were read, unless it belongs to a case already.</summary>
    internal Answer<DentalCase> Attach(CaseId id, FilmToAttach film, FilmTaken taken, Confirmation said, Writer by)
    {
        ArgumentNullException.ThrowIfNull(by);
        if (FilmFile.Sha256Of(film.Bytes) != film.Sha256)
        {
            return new Refusal("film_changed", $"The file “{film.Name}” is another one than when it was shown; it was not attached.", "Look at it again in a few seconds, then attach it.");
        }

        for (var tried = 1; ; tried++)
        {
            // Whom it speaks of is held against the case as it stands when it is stored.
            if (!store.Cases.Read(id).TryGet(out var it, out var refusal))
            {
                return refusal;
            }

            // Who was first is said before whom the film speaks of: there is nothing to confirm any more.
            if (store.Cases.WhyAttached(id, film.Sha256) is { } already)
            {
                return already;
            }

            if (!FilmsOfCase.Attach(it, film.Sha256, film.Name, film.Stated, taken, said).TryGet(out var attached, out refusal)
                || !receive.Receive(film.Bytes).TryGet(out _, out refusal))
            {
                return refusal;
            }

            var answer = store.Cases.AttachNewFilm(id, it.Version, by.Author, attached);
            if (answer.TryGet(out _, out refusal) || refusal.Code != "case_changed" || tried == Tries)
            {
                return answer;
            }
        }
    }

    private static OfferedFilm Offer(NewFilm film, DentalCase? it, IReadOnlyList<Records.Events.CaseLine> lines)
    {
        if (it is not null)
        {
            var differences = FilmsOfCase.Compare(it, film.Stated);
            var names = film.Stated.PatientNumber is { } number && IdentityDifferences.IsSameNumber(number, it.Patient.Number);
            return new OfferedFilm(film, differences, IsOfThisPatient: names && differences.Sentences.Count == 0, null);
        }

        return new OfferedFilm(film, new FilmDifferences([], IsOfAnotherPatient: false, null), IsOfThisPatient: false, CaseOfFilm.Find(film.Stated, lines));
    }

    private static Refusal NotThere() => new(
        "film_not_here",
        "This film does not lie in the folder of new films any more.",
        "See whether its folder or stick was taken away, or whether another program moved the file.");
}

/// <summary>A film on its way to a case.</summary>
/// <param name="Name">Its file's name.</param>
/// <param name="Sha256">SHA-256 of the file when it was shown.</param>
/// <param name="Bytes">Its bytes now.</param>
/// <param name="Stated">What it says of whom it shows.</param>
internal sealed record FilmToAttach(string Name, string Sha256, byte[] Bytes, Domain.Films.StatedIdentity Stated);

/// <summary>New films as they are offered.</summary>
/// <param name="Folder">The folder that they lie in.</param>
/// <param name="Films">Those that are offered, of the open case's patient first.</param>
/// <param name="PutAside">Those that were put aside.</param>
/// <param name="Unreadable">Files that can't be read and were not put aside.</param>
/// <param name="AttachedCount">How many more lie there that belong to a case already.</param>
public sealed record OfferedFilms(
    FolderNow Folder, IReadOnlyList<OfferedFilm> Films, IReadOnlyList<NewFilm> PutAside, IReadOnlyList<UnreadableFile> Unreadable, int AttachedCount)
{
    /// <summary>A word that changes when anything changes of what is offered.</summary>
    public string Mark => FilmFile.Sha256Of(System.Text.Encoding.UTF8.GetBytes(string.Join('\n',
    [
        Folder.Folder,
        Folder.GoneSince?.ToString("O", System.Globalization.CultureInfo.InvariantCulture),
        .. Films.Select(one => one.Film.Sha256 + string.Concat(one.Film.AlsoNamed) + string.Concat(one.Differences.Sentences) + one.Case),
        "aside",
        .. PutAside.Select(film => film.Sha256),
        "unreadable",
        .. Unreadable.Select(file => file.Name + file.Refusal.Code),
        "written",
        .. Folder.BeingWritten,
        FormattableString.Invariant($"{Folder.Older} {AttachedCount} {Folder.LookedAt is null}"),
    ])))[..16];
}

/// <summary>A film as it is offered.</summary>
/// <param name="Film">The film.</param>
/// <param name="Differences">In which points it speaks of another patient or tooth than the open case.</param>
/// <param name="IsOfThisPatient">Whether it names the open case's patient by number and differs in nothing.</param>
/// <param name="Case">The case that it names, where none is open; null when that is not certain.</param>
public sealed record OfferedFilm(NewFilm Film, FilmDifferences Differences, bool IsOfThisPatient, CaseId? Case);
