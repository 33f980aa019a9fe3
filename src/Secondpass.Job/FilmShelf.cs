using Secondpass.Domain;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Read;
using Secondpass.Records;

namespace Secondpass.Job;

/// <summary>The films at hand: the ones last used are kept decoded, the others are read again from the store.</summary>
/// <remarks>Safe to call from several threads.</remarks>
/// <param name="store">Where the original bytes are.</param>
/// <param name="mostBytes">How many bytes of decoded pixels are kept at most; the newest film is kept whatever its size.</param>
public sealed class FilmShelf(ClinicStore store, long mostBytes = 256L << 20)
{
    private readonly LinkedList<Radiograph> newestFirst = [];
    private readonly Dictionary<string, Lazy<Answer<Radiograph>>> reading = new(StringComparer.Ordinal);
    private readonly Lock changing = new();

    /// <summary>Bytes of decoded pixels kept now.</summary>
    public long Bytes
    {
        get
        {
            lock (changing)
            {
                return newestFirst.Sum(BytesOf);
            }
        }
    }

    /// <summary>A film by the SHA-256 of its file.</summary>
    /// <returns>The film; or a refusal: not here any more, damaged.</returns>
    public Answer<Radiograph> Find(string sha256)
    {
        Lazy<Answer<Radiograph>> read;
        lock (changing)
        {
            if (newestFirst.FirstOrDefault(film => film.Sha256 == sha256) is { } found)
            {
                newestFirst.Remove(found);
                newestFirst.AddFirst(found);
                return found;
            }

            // A page asks for a film's picture, its pixels and its facts at once: it is read once for all of them.
            if (!reading.TryGetValue(sha256, out read!))
            {
                read = reading[sha256] = new Lazy<Answer<Radiograph>>(() => Read(sha256));
            }
        }

        try
        {
            var answer = read.Value;
            lock (changing)
            {
                // Not when another put it there already, or it was dropped meanwhile.
                if (IsReading(sha256, read) && answer.TryGet(out var film, out _))
                {
                    Put(film);
                }
            }

            return answer;
        }
        finally
        {
            lock (changing)
            {
                if (IsReading(sha256, read))
                {
                    reading.Remove(sha256);
                }
            }
        }
    }

    /// <summary>Puts a film at hand.</summary>
    public void Put(Radiograph film)
    {
        ArgumentNullException.ThrowIfNull(film);
        lock (changing)
        {
            Drop(film.Sha256);
            newestFirst.AddFirst(film);
            while (newestFirst.Count > 1 && newestFirst.Sum(BytesOf) > mostBytes)
            {
                newestFirst.RemoveLast();
            }
        }
    }

    /// <summary>Forgets a film's pixels; the store is left alone.</summary>
    public void Drop(string sha256)
    {
        lock (changing)
        {
            reading.Remove(sha256);
            if (newestFirst.FirstOrDefault(film => film.Sha256 == sha256) is { } found)
            {
                newestFirst.Remove(found);
            }
        }
    }

    private Answer<Radiograph> Read(string sha256) => store.ReadFilm(sha256).TryGet(out var bytes, out var missing) ? FilmReader.Read(bytes) : missing;

    private bool IsReading(string sha256, Lazy<Answer<Radiograph>> read) => ReferenceEquals(reading.GetValueOrDefault(sha256), read);

    private static long BytesOf(Radiograph film) => (long)film.Width * film.Height * sizeof(ushort);
}
