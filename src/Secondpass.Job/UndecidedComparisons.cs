using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Records;

namespace Secondpass.Job;

/// <summary>A comparison that is neither kept nor thrown away yet.</summary>
/// <param name="Id">Its identity while it is undecided.</param>
/// <param name="Films">The films compared, and what came out.</param>
/// <param name="Tooth">The tooth; null when it was not said.</param>
/// <param name="CaseDocument">What was entered, as JSON.</param>
public sealed record UndecidedComparison(string Id, ComparedFilms Films, ToothNumber? Tooth, string CaseDocument);

/// <summary>The comparisons that are neither kept nor thrown away yet: in memory only, the newest few.</summary>
/// <remarks>Safe to call from several threads. Nothing is lost with one that is dropped: it is computed again from the same films and marks.</remarks>
/// <param name="most">How many are held.</param>
public sealed class UndecidedComparisons(int most = 16)
{
    private readonly LinkedList<UndecidedComparison> newestFirst = [];
    private readonly Lock changing = new();

    /// <summary>Holds a comparison that was just made, under a new identity; the oldest goes when there are too many.</summary>
    /// <param name="films">The films compared, and what came out.</param>
    /// <param name="tooth">The tooth; null when it was not said.</param>
    /// <param name="caseDocument">What was entered, as JSON.</param>
    public UndecidedComparison Hold(ComparedFilms films, ToothNumber? tooth, string caseDocument)
    {
        var comparison = new UndecidedComparison(Identity.New(), films, tooth, caseDocument);
        Add(comparison);
        return comparison;
    }

    /// <summary>Holds one; the oldest goes when there are too many.</summary>
    public void Add(UndecidedComparison comparison)
    {
        lock (changing)
        {
            newestFirst.AddFirst(comparison);
            while (newestFirst.Count > most)
            {
                newestFirst.RemoveLast();
            }
        }
    }

    /// <summary>One by its identity.</summary>
    /// <returns>The comparison; or a refusal when it isn't held any more.</returns>
    public Answer<UndecidedComparison> Find(string id)
    {
        lock (changing)
        {
            return newestFirst.FirstOrDefault(one => one.Id == id) is { } found
                ? found
                : new Refusal(
                    "comparison_not_here",
                    "This comparison is not held any more.",
                    "Ask again what is left; the films and the marks are still there.");
        }
    }

    /// <summary>Forgets one.</summary>
    /// <returns>Whether it was held.</returns>
    public bool Remove(string id)
    {
        lock (changing)
        {
            return newestFirst.FirstOrDefault(one => one.Id == id) is { } found && newestFirst.Remove(found);
        }
    }
}
