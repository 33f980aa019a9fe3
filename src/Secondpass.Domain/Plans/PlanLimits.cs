using Secondpass.Domain.Evidence;
using Secondpass.Domain.Quantities;

namespace Secondpass.Domain.Plans;

/// <summary>What a plan keeps to. Each has a default with its reason in the evidence; the clinic changes it.</summary>
/// <param name="LeastWallLeft">Wall of dentine that is left at least.</param>
/// <param name="GreatestLossPerSide">Dentine that a step may take from each side.</param>
/// <param name="ConcavityAllowance">What is taken off a wall towards the furcation that was measured on a film.</param>
/// <param name="Attempts">Attempts at an obstacle.</param>
/// <param name="LedgeMinutes">Minutes at a ledge or blockage.</param>
/// <param name="WithdrawalMinutes">Minutes at a fragment, silver point, carrier or cone.</param>
public sealed record PlanLimits(
    Millimetres LeastWallLeft,
    Millimetres GreatestLossPerSide,
    Millimetres ConcavityAllowance,
    int Attempts,
    double LedgeMinutes,
    double WithdrawalMinutes)
{
    /// <summary>The defaults.</summary>
    public static PlanLimits Default { get; } = new(
        new Millimetres(WallFacts.LeastWallLeft.Value),
        new Millimetres(WallFacts.GreatestLossPerSide.Value),
        new Millimetres(WallFacts.ConcavityAllowance.Value),
        PlanFacts.Attempts.Value,
        PlanFacts.LedgeMinutes.Value,
        PlanFacts.WithdrawalMinutes.Value);
}
