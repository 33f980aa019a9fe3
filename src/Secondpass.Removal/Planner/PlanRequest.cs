using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Instruments;
using Secondpass.Domain.Plans;

namespace Secondpass.Removal.Planner;

/// <summary>Everything a plan is made from.</summary>
/// <param name="Tooth">The tooth; null when not said.</param>
/// <param name="TakeDown">What stands on the canals.</param>
/// <param name="Filling">What the canals were filled with.</param>
/// <param name="Canals">The canals, parents before children.</param>
/// <param name="Measures">What is known of their sizes, by name; a canal missing here was not measured.</param>
/// <param name="Choices">What the dentist set, by name.</param>
/// <param name="Sequence">The sequence.</param>
/// <param name="Kinds">All kinds of instruments.</param>
/// <param name="Items">Instruments in stock with their uses so far.</param>
/// <param name="Unit">The ultrasonic unit; null when none was entered.</param>
/// <param name="Solvent">What the clinic does about solvents.</param>
/// <param name="ResinFollows">Whether resin will be bonded in the root afterwards.</param>
/// <param name="Limits">What the plan keeps to.</param>
public sealed record PlanRequest(
    ToothNumber? Tooth,
    TakeDown TakeDown,
    OldFilling Filling,
    IReadOnlyList<CanalRecord> Canals,
    IReadOnlyDictionary<string, CanalMeasures> Measures,
    IReadOnlyDictionary<string, CanalChoice> Choices,
    Sequence Sequence,
    IReadOnlyList<InstrumentKind> Kinds,
    IReadOnlyList<InstrumentItem> Items,
    UltrasonicUnit? Unit,
    SolventPreference Solvent,
    bool ResinFollows,
    PlanLimits Limits)
{
    /// <summary>How the clinic counts uses of its instruments.</summary>
    public UseCount UseCount { get; init; }
}
