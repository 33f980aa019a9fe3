using System.Text;
using Secondpass.Domain;
using Secondpass.Domain.Cases;
using Secondpass.Exchange.Letters;
using Secondpass.Job.Documents;

namespace Secondpass.Job.Letters;

/// <summary>The films of kept comparisons, read again for the pictures of a letter, and only where they give exactly the figures that were kept.</summary>
/// <remarks>That takes seconds: it runs beside the pages, and the last few stay at hand. Safe to call from several threads.</remarks>
/// <param name="shelf">The films.</param>
public sealed class FilmsOfLetters(FilmShelf shelf)
{
    // A film pair takes some megabytes; more letters than this are rarely being written at once.
    private const int AtHand = 4;

    private readonly Lock changing = new();
    private readonly List<(CaseComparison Kept, Task<Answer<LetterFilms>> Read)> newestFirst = [];

    /// <summary>The films of a comparison; begins to read them where they are not at hand.</summary>
    /// <returns>The films; or a refusal: a film is gone or damaged, this version reads them otherwise.</returns>
    public Task<Answer<LetterFilms>> Of(CaseComparison kept)
    {
        ArgumentNullException.ThrowIfNull(kept);
        lock (changing)
        {
            var place = newestFirst.FindIndex(one => one.Kept == kept);
            var read = place >= 0 && IsWorthKeeping(newestFirst[place].Read) ? newestFirst[place].Read : Task.Run(() => Read(kept));
            if (place >= 0)
            {
                newestFirst.RemoveAt(place);
            }

            newestFirst.Insert(0, (kept, read));
            newestFirst.RemoveRange(Math.Min(AtHand, newestFirst.Count), Math.Max(0, newestFirst.Count - AtHand));
            return read;
        }
    }

    // What was refused may be there the next time.
    private static bool IsWorthKeeping(Task<Answer<LetterFilms>> read) => !read.IsCompleted || (read.IsCompletedSuccessfully && read.Result.IsGiven);

    private Answer<LetterFilms> Read(CaseComparison kept)
    {
        if (!shelf.Find(kept.BeforeSha256).TryGet(out var before, out var refusal)
            || !shelf.Find(kept.AfterSha256).TryGet(out var after, out refusal)
            || !CaseReader.Read(Encoding.UTF8.GetBytes(kept.CaseDocument)).TryGet(out var marked, out refusal)
            || !CompareFilms.Compare(before, after, marked).TryGet(out var compared, out refusal))
        {
            return refusal with { Reason = $"The films of what is left can't be shown: {refusal.Reason}" };
        }

        return Encoding.UTF8.GetString(DocumentJson.Write(compared.Document)).TrimEnd() == kept.ComparisonDocument.TrimEnd()
            ? new LetterFilms(compared.Request, compared.Comparison)
            : new Refusal(
                "films_read_otherwise",
                "This version of the program reads the films otherwise than when their result was kept; the letter leaves both out.",
                "Enclose the record sheet that was kept.");
    }
}
