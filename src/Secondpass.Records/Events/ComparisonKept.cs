namespace Secondpass.Records.Events;

/// <summary>A comparison of two films was kept under a label.</summary>
/// <param name="Label">The dentist's label.</param>
/// <param name="BeforeSha256">SHA-256 of the film before.</param>
/// <param name="AfterSha256">SHA-256 of the film after.</param>
/// <param name="CaseDocument">What was entered, as JSON.</param>
/// <param name="ComparisonDocument">What came out, as JSON.</param>
/// <param name="SheetSha256">SHA-256 of the record sheet as it was made then.</param>
internal sealed record ComparisonKept(
    string Label,
    string BeforeSha256,
    string AfterSha256,
    string CaseDocument,
    string ComparisonDocument,
    string SheetSha256);

/// <summary>A kept comparison was taken off the list, and its films with it where nothing else needs them.</summary>
internal sealed record ComparisonRemoved;
