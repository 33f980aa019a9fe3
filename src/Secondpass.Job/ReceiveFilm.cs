using Secondpass.Domain;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Read;
using Secondpass.Records;

namespace Secondpass.Job;

/// <summary>First stage: a file becomes a film, and its bytes are kept untouched.</summary>
/// <param name="store">Where the bytes go.</param>
/// <param name="shelf">Where the film goes.</param>
public sealed class ReceiveFilm(ClinicStore store, FilmShelf shelf)
{
    /// <summary>Takes a film in.</summary>
    /// <param name="bytes">The bytes of its file, whatever its name.</param>
    /// <returns>The film, stored; or a refusal, and then nothing is stored: not a film, damaged, too large, disk full.</returns>
    public Answer<Radiograph> Receive(ReadOnlyMemory<byte> bytes)
    {
        if (!FilmReader.Read(bytes).TryGet(out var film, out var unreadable))
        {
            return unreadable;
        }

        if (!store.KeepFilm(bytes.Span).TryGet(out _, out var notStored))
        {
            return notStored;
        }

        shelf.Put(film);
        return film;
    }

    /// <summary>Throws a film away, unless a kept comparison needs it.</summary>
    /// <param name="sha256">The film.</param>
    public void ThrowAway(string sha256)
    {
        if (store.ThrowAwayFilm(sha256))
        {
            shelf.Drop(sha256);
        }
    }
}
