using Secondpass.Domain.Films;

namespace Secondpass.Domain.Cases;

/// <summary>Where a film of a case came from, and what its file said of whom it shows when it was attached.</summary>
/// <param name="FileName">The name that its file had.</param>
/// <param name="Stated">What the file says.</param>
/// <param name="Confirmed">In which points the file spoke of another patient or tooth, in the sentences that were shown; empty when in none.</param>
/// <param name="WhyAttached">Why it was attached all the same, in the words of who attached it; null when the file spoke of nobody else.</param>
public sealed record FilmOrigin(string FileName, StatedIdentity Stated, IReadOnlyList<string> Confirmed, string? WhyAttached);
