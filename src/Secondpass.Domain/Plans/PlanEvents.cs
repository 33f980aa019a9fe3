using Secondpass.Domain.Cases;

namespace Secondpass.Domain.Plans;

/// <summary>A plan was chosen: the last one holds.</summary>
/// <param name="Plan">The plan.</param>
public sealed record PlanChosen(RemovalPlan Plan) : CaseEvent;
