using System.Globalization;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Chairside;

namespace Secondpass.Job.Chairside;

/// <summary>What was noted at the chair, as the history of a case tells it.</summary>
public static class ChairsideHistory
{
    /// <summary>An entry in words, its canal in words too.</summary>
    /// <param name="entry">The entry.</param>
    /// <param name="earlier">What was noted at the chair before it, in order.</param>
    /// <param name="zone">Time zone of the clinic.</param>
    /// <returns>Such as "visit 1: first touch of filling, palatal canal"; of a correction what it corrects, and why.</returns>
    public static string Of(ChairsideEntry entry, IReadOnlyList<ChairsideEntry> earlier, TimeZoneInfo zone)
    {
        ArgumentNullException.ThrowIfNull(entry);
        ArgumentNullException.ThrowIfNull(earlier);
        return string.Create(CultureInfo.InvariantCulture, $"visit {entry.Visit}: {Said()}");

        string Said() => entry switch
        {
            EntryCorrected { Instead: { } holds } corrected when holds.At != Corrected(corrected)?.At =>
                string.Create(CultureInfo.InvariantCulture, $"corrected ({corrected.Reason}): {Words(holds)}, was at {TimeZoneInfo.ConvertTime(holds.At, zone):HH:mm:ss}"),
            EntryCorrected { Instead: { } holds } corrected => $"corrected ({corrected.Reason}): {Words(holds)}",
            EntryCorrected corrected => $"doesn't hold ({corrected.Reason}): {(Corrected(corrected) is { } wrong ? Words(wrong) : "an earlier entry")}",
            _ => Words(entry),
        };

        ChairsideEntry? Corrected(EntryCorrected correction) => earlier.ElementAtOrDefault(correction.EntryNumber - 1);
    }

    private static string Words(ChairsideEntry entry)
    {
        var words = ShownVisit.Words(entry, ExpectedCanals.CanalInWords);
        return char.ToLowerInvariant(words[0]) + words[1..];
    }
}
