using Secondpass.Domain;
using Secondpass.Domain.Cases;
using Secondpass.Records;

namespace Secondpass.Job.Cases;

/// <summary>Films and photographs become part of a case.</summary>
/// <param name="store">Where they are kept.</param>
/// <param name="receive">Takes films in.</param>
/// <param name="papers">Takes photographs in.</param>
public sealed class AttachFilm(ClinicStore store, ReceiveFilm receive, ReceivePaper papers)
{
    /// <summary>Attaches films.</summary>
    /// <param name="id">The case.</param>
    /// <param name="version">The version that the page was filled from.</param>
    /// <param name="sent">At least one file.</param>
    /// <param name="moment">When they were taken.</param>
    /// <param name="shift">From where.</param>
    /// <param name="by">Who attaches them.</param>
    /// <returns>The case; or a refusal: none was sent, one is no film, it is there already, disk full.</returns>
    public Answer<DentalCase> Attach(CaseId id, long version, IReadOnlyList<SentFile> sent, FilmMoment moment, TubeShift shift, Writer by)
    {
        ArgumentNullException.ThrowIfNull(sent);
        ArgumentNullException.ThrowIfNull(by);
        if (sent.Count == 0)
        {
            return new Refusal("no_file", "No film was chosen.", "Choose its file, or drop it on the field.");
        }

        return store.Cases.Read(id).TryGet(out var it, out var refusal) && Receive(it, sent, moment, shift).TryGet(out var attached, out refusal)
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

    internal Answer<IReadOnlyList<CaseEvent>> Receive(DentalCase it, IReadOnlyList<SentFile> sent, FilmMoment moment, TubeShift shift)
    {
        var events = new List<CaseEvent>();
        foreach (var file in sent)
        {
            if (!receive.Receive(file.Bytes).TryGet(out var film, out var refusal))
            {
                return new Refusal(refusal.Code, $"“{file.Name}”: {refusal.Reason}", refusal.Remedy, refusal.Evidence);
            }

            if (it.Films.Any(known => known.Sha256 == film.Sha256) || events.OfType<FilmAttached>().Any(known => known.Film.Sha256 == film.Sha256))
            {
                return new Refusal("film_there_already", $"“{file.Name}” belongs to this case already.", "Choose another file; the one that is there can be looked at under Films and photographs.");
            }

            events.Add(new FilmAttached(new CaseFilm(film.Sha256, moment, shift, null)));
        }

        return events;
    }
}
