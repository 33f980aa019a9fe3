namespace Secondpass.Records.Projections;

/// <summary>A comparison that the dentist kept.</summary>
/// <param name="Id">Its identity.</param>
/// <param name="Label">The dentist's label.</param>
/// <param name="KeptAt">When it was kept, UTC.</param>
/// <param name="BeforeSha256">SHA-256 of the film before.</param>
/// <param name="AfterSha256">SHA-256 of the film after.</param>
/// <param name="CaseDocument">What was entered, as JSON.</param>
/// <param name="ComparisonDocument">What came out, as JSON, unchanged since.</param>
/// <param name="SheetSha256">SHA-256 of the record sheet as it was made then.</param>
public sealed record KeptComparison(
    string Id,
    string Label,
    DateTimeOffset KeptAt,
    string BeforeSha256,
    string AfterSha256,
    string CaseDocument,
    string ComparisonDocument,
    string SheetSha256);
