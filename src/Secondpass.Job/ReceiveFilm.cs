using Secondpass.Domain;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Read;
using Secondpass.Records;

namespace Secondpass.Job;

/// <summary>First stage: a file becomes a film, and its bytes are kept untouched.</summary>
/// <param name="store">Where the bytes go.</param>
/// <param name="shelf">Where the film goes.</param>
/// <param name="inUse">Which pages show which films.</param>
public sealed class ReceiveFilm(ClinicStore store, FilmShelf shelf, FilmsInUse inUse)
{
    /// <summary>Takes a film in.</summary>
    /// <param name="bytes">The bytes of its file, whatever its name.</param>
    /// <param name="page">The page that shows it from now on; null where none does.</param>
    /// <returns>The film, stored; or a refusal, and then nothing is stored: not a film, damaged, too large, disk full.</returns>
    public Answer<Radiograph> Receive(ReadOnlyMemory<byte> bytes, string? page = null)
    {
        if (!FilmReader.Read(bytes).TryGet(out var film, out var unreadable))
        {
            return unreadable;
        }

        // Before it is stored: a film that another page throws away just then is stored again, or stays.
        inUse.Take(film.Sha256, page);
        if (!store.KeepFilm(bytes.Span).TryGet(out _, out var notStored))
        {
            return notStored;
        }

        shelf.Put(film);
        return film;
    }

    /// <summary>Throws a film away, unless a case or a kept comparison needs it or another page shows it.</summary>
    /// <param name="sha256">The film.</param>
    /// <param name="page">The page that showed it; null where none did.</param>
    public void ThrowAway(string sha256, string? page = null)
    {
        inUse.LetGo(sha256, page);
        if (store.ThrowAwayFilm(sha256, inUse.Has))
        {
            shelf.Drop(sha256);
        }
    }
}
