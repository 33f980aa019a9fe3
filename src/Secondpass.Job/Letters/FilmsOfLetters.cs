using System.Text;
using Secondpass.Domain;
using Secondpass.Domain.Cases;
using Secondpass.Exchange.Letters;
using Secondpass.Job.Documents;

namespace Secondpass.Job.Letters;

/// <summary>The films of kept comparisons, read again for the pictures of a letter, and only where they give exactly the figures that were kept.</summary>
/// <remarks>That takes seconds: it runs beside the pages, and the last few stay at hand. Safe to call from several threads.</remarks>
/// <param name="shelf">The films.</param>
/// <param name="clock">The clock: what was refused is tried again after a while.</param>
public sealed class FilmsOfLetters(FilmShelf shelf, TimeProvider clock)
{
    // A film pair takes some megabytes; more letters than this are rarely being written at once.
    private const int AtHand = 4;

    // A film that was missing may be there by then; a page that comes anew when reading has ended must find that it has.
    private static readonly TimeSpan RefusedFor = TimeSpan.FromMinutes(1);

    private readonly Lock changing = new();
    private readonly List<(CaseComparison Kept, Task<Answer<LetterFilms>> Read, long Began)> newestFirst = [];

    /// <summary>The films of a comparison; begins to read them where they are not at hand.</summary>
    /// <returns>The films; or a refusal: a film is gone or damaged, this version reads them otherwise.</returns>
    public Task<Answer<LetterFilms>> Of(CaseComparison kept)
    {
        ArgumentNullException.ThrowIfNull(kept);
        lock (changing)
        {
            var place = newestFirst.FindIndex(one => one.Kept == kept);
            var (read, began) = place >= 0 && IsWorthKeeping(newestFirst[place].Read, newestFirst[place].Began)
                ? (newestFirst[place].Read, newestFirst[place].Began)
                : (Task.Run(() => Read(kept)), clock.GetTimestamp());
            if (place >= 0)
            {
                newestFirst.RemoveAt(place);
            }

            newestFirst.Insert(0, (kept, read, began));
            newestFirst.RemoveRange(Math.Min(AtHand, newestFirst.Count), Math.Max(0, newestFirst.Count - AtHand));
            return read;
        }
    }

    private bool IsWorthKeeping(Task<Answer<LetterFilms>> read, long began) =>
        !read.IsCompleted || (read.IsCompletedSuccessfully && read.Result.IsGiven) || clock.GetElapsedTime(began) < RefusedFor;

    private Answer<LetterFilms> Read(CaseComparison kept)
    {
        if (!shelf.Find(kept.BeforeSha256).TryGet(out var before, out var refusal)
            || !shelf.Find(kept.AfterSha256).TryGet(out var after, out refusal)
            || !CaseReader.Read(Encoding.UTF8.GetBytes(kept.CaseDocument)).TryGet(out var marked, out refusal)
            || !CompareFilms.Compare(before, after, marked).TryGet(out var compared, out refusal))
        {
            return refusal with { Reason = $"The films of what is left can't be shown: {refusal.Reason}" };
        }

        var was = DocumentJson.Read<CompareDocument>(kept.ComparisonDocument);
        return Read(compared.Document, was).SequenceEqual(Read(was, was))
            ? new LetterFilms(compared.Request, compared.Comparison)
            : new Refusal(
                "films_read_otherwise",
                "This version of the program reads the films otherwise than when their result was kept; the letter leaves both out.",
                "Enclose the record sheet that was kept.");
    }

    // What was read from the films: the next step rests on the tray too, which changes; new material was not always looked for.
    private static byte[] Read(CompareDocument document, CompareDocument was) => DocumentJson.Write(document with
    {
        Canals = [.. document.Canals.Select(canal => canal with { NextPass = null })],
        Moved = was.Moved is null ? null : document.Moved,
    });
}
