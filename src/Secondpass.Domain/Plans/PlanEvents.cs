using Secondpass.Domain.Cases;

namespace Secondpass.Domain.Plans;

/// <summary>A plan was chosen: the last one holds.</summary>
/// <param name="Plan">The plan.</param>
/// <param name="Settings">What the dentist had set for it.</param>
public sealed record PlanChosen(RemovalPlan Plan, PlanSettings Settings) : CaseEvent;
