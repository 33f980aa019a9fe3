using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;

namespace Secondpass.Exchange.Sheets;

/// <summary>What the record sheet of a comparison shows.</summary>
/// <param name="Label">What the dentist calls this result; any text, cut where it is longer than a line.</param>
/// <param name="Tooth">The tooth; null when none was given.</param>
/// <param name="Date">The day that stands on the sheet.</param>
/// <param name="Request">The films, their scale, and what stands in the canals on the film after.</param>
/// <param name="Comparison">What was found.</param>
public sealed record ComparisonSheetContent(
    string Label,
    ToothNumber? Tooth,
    DateOnly Date,
    ComparisonRequest Request,
    Comparison Comparison);
