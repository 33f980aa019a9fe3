using Secondpass.Domain.Cases;
using Secondpass.Domain.Clinics;
using Secondpass.Domain.Plans;

namespace Secondpass.Job.Documents;

/// <summary>What a case file says for a plan, as read and checked.</summary>
/// <param name="Filling">What the canals were filled with.</param>
/// <param name="TakeDown">What stands on the canals.</param>
/// <param name="ResinFollows">Whether resin will be bonded in the root.</param>
/// <param name="Canals">The canals, parents before children.</param>
/// <param name="Measures">Sizes as typed, by canal.</param>
/// <param name="Choices">What the dentist set, by canal.</param>
/// <param name="Clinic">Instruments, sequences and limits.</param>
public sealed record CasePlanning(
    OldFilling Filling,
    TakeDown TakeDown,
    bool ResinFollows,
    IReadOnlyList<CanalRecord> Canals,
    IReadOnlyDictionary<string, CanalMeasures> Measures,
    IReadOnlyDictionary<string, CanalChoice> Choices,
    Clinic Clinic)
{
    /// <summary>Nothing said.</summary>
    public static CasePlanning None { get; } = new(
        OldFilling.Unknown,
        new TakeDown(null, null, null),
        ResinFollows: false,
        [],
        new Dictionary<string, CanalMeasures>(),
        new Dictionary<string, CanalChoice>(),
        Clinic.Start);
}
