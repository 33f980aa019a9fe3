using Secondpass.Domain;
using Secondpass.Domain.Cases;
using Secondpass.Records;

namespace Secondpass.Job.Cases;

/// <summary>Third stage of a case: what is filled, what is not, what is expected.</summary>
/// <param name="store">Where it is kept.</param>
/// <param name="films">Takes in the films that come with it.</param>
public sealed class NoteCanals(ClinicStore store, AttachFilm films)
{
    /// <summary>Notes the table of canals, and films that came with it.</summary>
    /// <param name="id">The case.</param>
    /// <param name="form">The table as typed.</param>
    /// <param name="sent">Films that came with it; none is legal.</param>
    /// <param name="by">Who notes it.</param>
    /// <returns>The case; or a refusal that quotes what can't be, and then nothing is noted.</returns>
    public Answer<DentalCase> Note(CaseId id, CanalsForm form, IReadOnlyList<SentFile> sent, Writer by)
    {
        ArgumentNullException.ThrowIfNull(form);
        ArgumentNullException.ThrowIfNull(by);
        if (!store.Cases.Read(id).TryGet(out var it, out var refusal) || !form.Read(it).TryGet(out var canals, out refusal))
        {
            return refusal;
        }

        if (!films.Receive(it, sent, new FilmTaken(FilmMoment.Before, TubeShift.Straight)).TryGet(out var attached, out refusal))
        {
            return refusal;
        }

        return store.Cases.Append(id, form.Version, by.Author, [.. attached, new CanalsNoted(canals)]);
    }
}
