using System.Globalization;
using Secondpass.Domain;
using Secondpass.Domain.Cases;
using Secondpass.Radiographs.Identify;
using Secondpass.Records;

namespace Secondpass.Job.Cases;

/// <summary>Films and photographs become part of a case.</summary>
/// <param name="store">Where they are kept.</param>
/// <param name="receive">Takes films in.</param>
/// <param name="papers">Takes photographs in.</param>
public sealed class AttachFilm(ClinicStore store, ReceiveFilm receive, ReceivePaper papers)
{
    /// <summary>Takes films in that are to be attached: from then on they lie ready, whatever becomes of the form.</summary>
    /// <param name="sent">The files.</param>
    /// <returns>What lies ready, in their order; or a refusal: one is no film, disk full.</returns>
    public Answer<IReadOnlyList<ReadyFilm>> TakeIn(IReadOnlyList<SentFile> sent)
    {
        var taken = TakeInEach(sent);
        return taken.Refused is { } refusal ? refusal : new List<ReadyFilm>(taken.Ready);
    }

    /// <summary>Takes in of several films those that can be read.</summary>
    /// <param name="sent">The files.</param>
    /// <returns>What lies ready, in their order, and a refusal that names every other file with its reason and says that nothing is attached yet.</returns>
    public FilmsTakenIn TakeInEach(IReadOnlyList<SentFile> sent)
    {
        ArgumentNullException.ThrowIfNull(sent);
        var ready = new List<ReadyFilm>();
        var refused = new List<Refusal>();
        foreach (var file in sent)
        {
            if (receive.Receive(file.Bytes).TryGet(out var film, out var refusal))
            {
                ready.Add(new ReadyFilm(film.Sha256, Path.GetFileName(file.Name)));
            }
            else
            {
                refused.Add(refusal with { Reason = $"“{file.Name}”: {refusal.Reason}" });
            }
        }

        if (refused.Count == 0)
        {
            return new FilmsTakenIn(ready, null);
        }

        var others = ready.Count == 0
            ? sent.Count > 1 ? " None was attached." : string.Empty
            : string.Create(CultureInfo.InvariantCulture, $" Nothing is attached yet: {ready.Count} of {sent.Count} can be read and lie ready; attach them below.");
        return new FilmsTakenIn(ready, refused[0] with { Reason = string.Join(" ", refused.Select(one => one.Reason)) + others });
    }

    /// <summary>Attaches films.</summary>
    /// <param name="id">The case.</param>
    /// <param name="version">The version that the page was filled from.</param>
    /// <param name="ready">At least one film that lies ready.</param>
    /// <param name="taken">When they were taken, and from where.</param>
    /// <param name="said">What was said to films that speak of another patient or tooth.</param>
    /// <param name="by">Who attaches them.</param>
    /// <returns>The case; or a refusal: none was sent, it is there already, it speaks of another patient or tooth, it lies ready no more.</returns>
    public Answer<DentalCase> Attach(CaseId id, long version, IReadOnlyList<ReadyFilm> ready, FilmTaken taken, Confirmation said, Writer by)
    {
        ArgumentNullException.ThrowIfNull(ready);
        ArgumentNullException.ThrowIfNull(by);
        if (ready.Count == 0)
        {
            return new Refusal("no_file", "No film was chosen.", "Choose its file, or drop it on the field.");
        }

        return store.Cases.Read(id).TryGet(out var it, out var refusal) && Become(it, ready, taken, said).TryGet(out var attached, out refusal)
            ? store.Cases.Append(id, version, by.Author, attached)
            : refusal;
    }

    /// <summary>Attaches a photograph: in colour, never measured.</summary>
    /// <param name="id">The case.</param>
    /// <param name="version">The version that the page was filled from.</param>
    /// <param name="sent">The file; null when none was chosen.</param>
    /// <param name="caption">What it shows.</param>
    /// <param name="canal">The canal it belongs to; nothing for the tooth.</param>
    /// <param name="by">Who attaches it.</param>
    /// <returns>The case; or a refusal: no file, no picture, no caption, disk full.</returns>
    public Answer<DentalCase> AttachPhotograph(CaseId id, long version, SentFile? sent, string? caption, string? canal, Writer by)
    {
        ArgumentNullException.ThrowIfNull(by);
        if (sent is null)
        {
            return new Refusal("no_file", "No photograph was chosen.", "Choose its file, or drop it on the field.");
        }

        if (Typed.Text(caption) is not { } words)
        {
            return new Refusal("no_caption", $"“{sent.Name}” has no caption.", "Say in a few words what it shows, such as “floor after take-down”.");
        }

        return papers.ReceivePhotograph(sent).TryGet(out var file, out var refusal)
            ? store.Cases.Append(id, version, by.Author, [new PhotographAttached(new Photograph(file, words, Typed.Text(canal)))])
            : refusal;
    }

    /// <summary>The sentences in which films that lie ready speak of another patient or tooth than a case, one a line; empty when in none.</summary>
    /// <param name="it">The case.</param>
    /// <param name="ready">The films.</param>
    public string Differences(DentalCase it, IReadOnlyList<ReadyFilm> ready)
    {
        ArgumentNullException.ThrowIfNull(ready);
        return string.Join('\n', ready
            .SelectMany(file => store.ReadFilm(file.Sha256).TryGet(out var bytes, out _) ? FilmsOfCase.Compare(it, IdentityReader.Read(bytes)).Sentences : [])
            .Distinct());
    }

    internal Answer<IReadOnlyList<CaseEvent>> Receive(DentalCase it, IReadOnlyList<SentFile> sent, FilmTaken taken) =>
        TakeIn(sent).TryGet(out var ready, out var refusal) ? Become(it, ready, taken, Confirmation.None) : refusal;

    private Answer<IReadOnlyList<CaseEvent>> Become(DentalCase it, IReadOnlyList<ReadyFilm> ready, FilmTaken taken, Confirmation said)
    {
        var events = new List<CaseEvent>();
        var unconfirmed = new List<Refusal>();
        foreach (var file in ready)
        {
            if (!store.ReadFilm(file.Sha256).TryGet(out var bytes, out var refusal))
            {
                return refusal;
            }

            if (it.Films.Any(known => known.Sha256 == file.Sha256))
            {
                return new Refusal("film_there_already", $"“{file.Name}” belongs to this case already.", "Choose another file; the one that is there can be looked at under Films and photographs.");
            }

            if (FilmsOfCase.Attach(it, file.Sha256, file.Name, IdentityReader.Read(bytes), taken, said).TryGet(out var attached, out refusal))
            {
                events.Add(attached);
                it = it.With(attached);
            }
            else if (refusal.Code == FilmsOfCase.OfAnother)
            {
                unconfirmed.Add(refusal);
            }
            else
            {
                return refusal;
            }
        }

        return unconfirmed.Count == 0
            ? events
            : new Refusal(FilmsOfCase.OfAnother, string.Join(" ", unconfirmed.Select(one => one.Reason)), unconfirmed[0].Remedy);
    }
}

/// <summary>What became of films that were sent together.</summary>
/// <param name="Ready">Those that lie ready.</param>
/// <param name="Refused">Names every file that can't be read, with its reason; null when all can.</param>
public sealed record FilmsTakenIn(IReadOnlyList<ReadyFilm> Ready, Refusal? Refused);

/// <summary>A film that lies ready to be attached.</summary>
/// <param name="Sha256">SHA-256 of its file.</param>
/// <param name="Name">The name that its file had.</param>
public sealed record ReadyFilm(string Sha256, string Name);
