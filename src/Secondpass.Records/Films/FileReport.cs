namespace Secondpass.Records.Films;

/// <summary>What a check of the kept files found.</summary>
/// <param name="Count">How many files there are.</param>
/// <param name="Damaged">Those whose content is not what was stored, as folder/SHA-256.</param>
/// <param name="Missing">SHA-256 of those that something kept needs and that are not there.</param>
public sealed record FileReport(int Count, IReadOnlyList<string> Damaged, IReadOnlyList<string> Missing);
