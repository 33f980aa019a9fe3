namespace Secondpass.Domain.Chairside;

/// <summary>An entry as it was written, and what holds of it once corrections are taken into account.</summary>
/// <param name="Number">Its number in the case, from 1, by which corrections name it.</param>
/// <param name="Written">The entry as it was written.</param>
/// <param name="Holds">What holds: the entry itself, what a correction put in its place, or null when it doesn't hold.</param>
/// <param name="WhyCorrected">The reason of the last correction; null when there is none.</param>
public sealed record NumberedEntry(int Number, ChairsideEntry Written, ChairsideEntry? Holds, string? WhyCorrected);

/// <summary>Reads what holds off everything that was noted at the chair.</summary>
public static class ChairsideRecord
{
    /// <summary>All entries but corrections, in the order in which they were noted, each with what holds of it.</summary>
    /// <remarks>
    /// A correction that was itself corrected counts no more: with something in its place that holds for the first entry instead, with
    /// nothing in its place the first entry holds again. A correction of an entry that isn't there, or that came later, is ignored.
    /// </remarks>
    /// <param name="entries">All entries of the case in order, corrections among them.</param>
    public static IReadOnlyList<NumberedEntry> Read(IReadOnlyList<ChairsideEntry> entries)
    {
        ArgumentNullException.ThrowIfNull(entries);
        var stands = new bool[entries.Count];
        for (var last = entries.Count - 1; last >= 0; last--)
        {
            stands[last] = !Later(last).Any();
        }

        var read = new List<NumberedEntry>();
        var placeOf = new Dictionary<int, int>();
        for (var index = 0; index < entries.Count; index++)
        {
            if (entries[index] is not EntryCorrected correction)
            {
                placeOf[index] = read.Count;
                read.Add(new NumberedEntry(index + 1, entries[index], entries[index], null));
            }
            else if (stands[index] && Root(index) is { } root && (IsFirst(index) || correction.Instead is not null))
            {
                var place = placeOf[root];
                read[place] = read[place] with { Holds = correction.Instead, WhyCorrected = correction.Reason };
            }
        }

        return read;

        // Corrections of this entry that themselves stand.
        IEnumerable<int> Later(int index) => Enumerable.Range(index + 1, entries.Count - index - 1)
            .Where(later => stands[later] && entries[later] is EntryCorrected correction && correction.EntryNumber == index + 1);

        // Whether it corrects an entry rather than a correction.
        bool IsFirst(int index) => entries[((EntryCorrected)entries[index]).EntryNumber - 1] is not EntryCorrected;

        int? Root(int index)
        {
            while (entries[index] is EntryCorrected correction)
            {
                if (correction.EntryNumber < 1 || correction.EntryNumber > index)
                {
                    return null;
                }

                index = correction.EntryNumber - 1;
            }

            return index;
        }
    }

    /// <summary>The entries of a visit that hold, earliest first by the clock of the device that noted them.</summary>
    /// <param name="entries">All entries of the case in order, corrections among them.</param>
    /// <param name="visit">Number of the visit, from 1.</param>
    public static IReadOnlyList<ChairsideEntry> OfVisit(IReadOnlyList<ChairsideEntry> entries, int visit) =>
        [.. Read(entries).Select(entry => entry.Holds).OfType<ChairsideEntry>().Where(entry => entry.Visit == visit).OrderBy(entry => entry.At)];
}
