using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Exchange.Wording;
using Secondpass.Job.Documents;
using Secondpass.Records;
using Secondpass.Records.Projections;

namespace Secondpass.Job;

/// <summary>The results that were kept: found again, read as they were, removed.</summary>
/// <param name="store">Where they are.</param>
/// <param name="inUse">Which pages show which films.</param>
public sealed class KeptResults(ClinicStore store, FilmsInUse inUse)
{
    /// <summary>All of them, newest first.</summary>
    public IReadOnlyList<KeptRecord> All() => [.. store.KeptComparisons().Select(KeptRecord.Of)];

    /// <summary>One by its identity.</summary>
    /// <returns>The result; or a refusal when none is kept under it.</returns>
    public Answer<KeptRecord> Find(string id) => store.FindComparison(id) is { } kept ? KeptRecord.Of(kept) : NotKept;

    /// <summary>Results that may show the same tooth from another angle: of a tooth of the same number, from another film after, newest first.</summary>
    /// <param name="kept">The result.</param>
    public IReadOnlyList<KeptRecord> FromAnotherAngle(KeptRecord kept)
    {
        ArgumentNullException.ThrowIfNull(kept);
        return kept.Tooth is null ? [] : [.. All().Where(other => other.AfterSha256 != kept.AfterSha256 && other.Tooth == kept.Tooth)];
    }

    /// <summary>The record sheet as it was made then.</summary>
    /// <returns>The bytes of a PDF file; or a refusal: not kept, gone, damaged.</returns>
    public Answer<byte[]> Sheet(string id) => store.FindComparison(id) is { } kept ? store.ReadSheet(kept) : NotKept;

    /// <summary>Removes one for good, with its sheet, and with its films where nothing else needs them and no page shows them.</summary>
    /// <returns>Whether it was kept; or a refusal: the store can't be written.</returns>
    public Answer<bool> Remove(string id) => store.RemoveComparison(id, inUse.Has);

    private static Refusal NotKept { get; } = new(
        "comparison_not_here",
        "No comparison is kept under this address.",
        "Look it up in the list of kept comparisons.");
}

/// <summary>A result as it was kept: its figures come from what was stored, not from computing again.</summary>
/// <param name="Id">Its identity.</param>
/// <param name="Label">The dentist's label.</param>
/// <param name="KeptAt">When it was kept, UTC.</param>
/// <param name="BeforeSha256">SHA-256 of the film before.</param>
/// <param name="AfterSha256">SHA-256 of the film after.</param>
/// <param name="CaseText">What was entered, as JSON.</param>
/// <param name="ResultText">What came out, as JSON.</param>
public sealed record KeptRecord(
    string Id,
    string Label,
    DateTimeOffset KeptAt,
    string BeforeSha256,
    string AfterSha256,
    string CaseText,
    string ResultText)
{
    /// <summary>What came out.</summary>
    public CompareDocument Document => DocumentJson.Read<CompareDocument>(ResultText);

    /// <summary>The tooth with its words; null when it was not said.</summary>
    public string? Tooth =>
        ToothNumber.Parse(DocumentJson.Read<CaseDocument>(CaseText).Tooth).TryGet(out var tooth, out _) ? $"{tooth}, {tooth.Words}" : null;

    /// <summary>What is left, in words: by mass where it is known, else by area.</summary>
    /// <param name="massPercent">Mass left in percent, or null.</param>
    /// <param name="massInterval">Its interval.</param>
    /// <param name="areaPercent">Area left in percent, or null.</param>
    /// <param name="areaInterval">Its interval.</param>
    public static string Share(double? massPercent, double[]? massInterval, double? areaPercent, double[]? areaInterval) =>
        Rounded.Back(massPercent ?? areaPercent, massInterval ?? areaInterval) is { } share ? ResidueWords.Share(share) : ResidueWords.NotKnown;

    internal static KeptRecord Of(KeptComparison kept)
    {
        ArgumentNullException.ThrowIfNull(kept);
        return new KeptRecord(kept.Id, kept.Label, kept.KeptAt, kept.BeforeSha256, kept.AfterSha256, kept.CaseDocument, kept.ComparisonDocument);
    }
}
