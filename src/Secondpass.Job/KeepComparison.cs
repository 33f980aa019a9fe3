using System.Globalization;
using System.Text;
using Secondpass.Domain;
using Secondpass.Exchange.Sheets;
using Secondpass.Job.Documents;
using Secondpass.Records;

namespace Secondpass.Job;

/// <summary>Fourth stage: a comparison is kept under a label with its films and its record sheet, or thrown away with them.</summary>
/// <param name="store">Where it is kept.</param>
/// <param name="undecided">The comparisons to decide about.</param>
/// <param name="receive">Throws films away.</param>
/// <param name="time">The clock.</param>
public sealed class KeepComparison(ClinicStore store, UndecidedComparisons undecided, ReceiveFilm receive, TimeProvider time)
{
    /// <summary>The longest label, in characters.</summary>
    public const int LongestLabel = 120;

    /// <summary>Keeps a comparison.</summary>
    /// <param name="id">The undecided comparison.</param>
    /// <param name="label">The dentist's label: 1 to <see cref="LongestLabel"/> characters, not only spaces.</param>
    /// <returns>What was kept; or a refusal: no label, label too long, not held any more, a film gone, disk full.</returns>
    public Answer<KeptRecord> Keep(string id, string? label)
    {
        var trimmed = (label ?? string.Empty).Trim();
        if (trimmed.Length is 0 or > LongestLabel)
        {
            return new Refusal(
                "label_length",
                string.Create(CultureInfo.InvariantCulture, $"A label has 1 to {LongestLabel} characters; this one has {trimmed.Length}."),
                "Give a short label by which you will find the comparison again.");
        }

        if (!undecided.Find(id).TryGet(out var comparison, out var gone))
        {
            return gone;
        }

        var request = comparison.Films.Request;
        var kept = store.KeepComparison(
            trimmed,
            request.Before.Sha256,
            request.After.Sha256,
            comparison.CaseDocument,
            Encoding.UTF8.GetString(DocumentJson.Write(comparison.Films.Document)).TrimEnd(),
            Sheet(comparison, trimmed));
        if (!kept.TryGet(out var record, out var notKept))
        {
            return notKept;
        }

        undecided.Remove(id);
        return KeptRecord.Of(record);
    }

    /// <summary>Throws an undecided comparison away, with its films where nothing that was kept needs them and no other page shows them.</summary>
    /// <param name="id">The undecided comparison.</param>
    /// <param name="page">The page that showed it; null where none did.</param>
    /// <returns>Whether it was held.</returns>
    public bool ThrowAway(string id, string? page = null)
    {
        if (!undecided.Find(id).TryGet(out var comparison, out _))
        {
            return false;
        }

        undecided.Remove(id);
        receive.ThrowAway(comparison.Films.Request.Before.Sha256, page);
        receive.ThrowAway(comparison.Films.Request.After.Sha256, page);
        return true;
    }

    /// <summary>The record sheet of an undecided comparison.</summary>
    /// <returns>The bytes of a PDF file of one page; or a refusal when the comparison isn't held any more.</returns>
    public Answer<byte[]> Sheet(string id) => undecided.Find(id).TryGet(out var comparison, out var gone)
        ? Sheet(comparison, "Not kept")
        : gone;

    private byte[] Sheet(UndecidedComparison comparison, string label) =>
        ComparisonSheet.Write(new ComparisonSheetContent(
            label,
            comparison.Tooth,
            DateOnly.FromDateTime(time.GetLocalNow().DateTime),
            comparison.Films.Request,
            comparison.Films.Comparison));
}
