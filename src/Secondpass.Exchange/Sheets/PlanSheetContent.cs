using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Instruments;
using Secondpass.Domain.Plans;

namespace Secondpass.Exchange.Sheets;

/// <summary>What the plan for the tray shows.</summary>
/// <param name="Patient">The patient; null for a plan that is not of a case, which leaves the line out.</param>
/// <param name="Tooth">The tooth; null when not given.</param>
/// <param name="Date">The day that stands on the sheet.</param>
/// <param name="Plan">The plan.</param>
/// <param name="Kinds">The kinds of instruments that its steps name, for the sign of taper or size.</param>
public sealed record PlanSheetContent(
    Patient? Patient,
    ToothNumber? Tooth,
    DateOnly Date,
    RemovalPlan Plan,
    IReadOnlyList<InstrumentKind> Kinds);
