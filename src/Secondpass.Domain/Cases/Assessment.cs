using Secondpass.Domain.Quantities;

namespace Secondpass.Domain.Cases;

/// <summary>The tooth was assessed: the last assessment holds.</summary>
/// <param name="Assessment">The assessment.</param>
public sealed record ToothAssessed(Assessment Assessment) : CaseEvent;

/// <summary>Diagnosis of the pulp in the standard terms (consensus of specialists, J Endod 2009;35:1634).</summary>
public enum PulpalDiagnosis
{
    /// <summary>Previously treated: what every case here starts from.</summary>
    PreviouslyTreated,

    /// <summary>Previously initiated therapy.</summary>
    PreviouslyInitiated,

    /// <summary>Necrosis.</summary>
    Necrosis,

    /// <summary>Symptomatic irreversible pulpitis.</summary>
    SymptomaticIrreversible,

    /// <summary>Asymptomatic irreversible pulpitis.</summary>
    AsymptomaticIrreversible,

    /// <summary>Reversible pulpitis.</summary>
    Reversible,

    /// <summary>Normal pulp.</summary>
    Normal,
}

/// <summary>Diagnosis at the apex in the standard terms (as <see cref="PulpalDiagnosis"/>).</summary>
public enum ApicalDiagnosis
{
    /// <summary>Not diagnosed yet.</summary>
    NotYet,

    /// <summary>Normal apical tissues.</summary>
    Normal,

    /// <summary>Symptomatic apical periodontitis.</summary>
    SymptomaticPeriodontitis,

    /// <summary>Asymptomatic apical periodontitis.</summary>
    AsymptomaticPeriodontitis,

    /// <summary>Acute apical abscess.</summary>
    AcuteAbscess,

    /// <summary>Chronic apical abscess.</summary>
    ChronicAbscess,

    /// <summary>Condensing osteitis.</summary>
    CondensingOsteitis,
}

/// <summary>Whether the tooth can be restored.</summary>
public enum Restorability
{
    /// <summary>Not judged yet.</summary>
    NotYet,

    /// <summary>It can.</summary>
    Restorable,

    /// <summary>Doubtful: to be judged again once caries and post are out.</summary>
    Doubtful,

    /// <summary>It can't.</summary>
    NotRestorable,
}

/// <summary>What the last treatment filled the canals with.</summary>
public enum OldFilling
{
    /// <summary>Not known.</summary>
    Unknown,

    /// <summary>Gutta-percha with a sealer.</summary>
    GuttaPercha,

    /// <summary>A single loose cone.</summary>
    SingleCone,

    /// <summary>Gutta-percha on a carrier.</summary>
    CarrierBased,

    /// <summary>A silver point.</summary>
    SilverPoint,

    /// <summary>A paste that sets hard.</summary>
    HardPaste,

    /// <summary>A soft paste.</summary>
    SoftPaste,
}

/// <summary>What is known of the last treatment.</summary>
/// <param name="Year">The year; null when not known.</param>
/// <param name="Filling">What the canals were filled with.</param>
/// <param name="Post">What post stands in the tooth, in words; null when none.</param>
/// <param name="Crown">What crown or restoration it carries, in words; null when none.</param>
/// <param name="By">Who treated it, in words; null when not known.</param>
public sealed record PreviousTreatment(int? Year, OldFilling Filling, string? Post, string? Crown, string? By);

/// <summary>What was found at one root.</summary>
/// <param name="Root">The root, such as "MB".</param>
/// <param name="PeriapicalIndex">Periapical index 1 to 5 (Ørstavik, Kerekes, Eriksen, Endod Dent Traumatol 1986;2:20–34); null when not read.</param>
/// <param name="LesionDiameter">Greatest diameter of the lesion on the film; null when none or not measured.</param>
/// <param name="Note">Anything else, in words.</param>
public sealed record RootFinding(string Root, int? PeriapicalIndex, Millimetres? LesionDiameter, string? Note);

/// <summary>How the tooth stands before treatment.</summary>
/// <param name="Pulpal">Pulpal diagnosis.</param>
/// <param name="Apical">Apical diagnosis.</param>
/// <param name="Previous">The last treatment.</param>
/// <param name="Roots">Findings root by root.</param>
/// <param name="IsolatedDeepProbing">Depth of an isolated deep pocket: a reason to stop and think of a fracture; null when there is none or it was not probed.</param>
/// <param name="Probed">Whether it was probed.</param>
/// <param name="RestorableBefore">Judged before treatment.</param>
/// <param name="RestorableAfterTakeDown">Judged again after caries and post are out.</param>
/// <param name="ExplorationOnlyAgreed">Whether the patient agreed to exploration only, with its fee, should the tooth turn out not to be restorable.</param>
/// <param name="ExplorationFee">The fee that was told for exploration only, in the currency that it was told in; null when none was told.</param>
/// <param name="Findings">Swelling, sinus tract, mobility, percussion and the like, in words.</param>
public sealed record Assessment(
    PulpalDiagnosis Pulpal,
    ApicalDiagnosis Apical,
    PreviousTreatment Previous,
    IReadOnlyList<RootFinding> Roots,
    Millimetres? IsolatedDeepProbing,
    bool Probed,
    Restorability RestorableBefore,
    Restorability RestorableAfterTakeDown,
    bool ExplorationOnlyAgreed,
    Money? ExplorationFee,
    string? Findings)
{
    /// <summary>What every case starts from: previously treated, nothing else said.</summary>
    public static Assessment Start { get; } = new(
        PulpalDiagnosis.PreviouslyTreated,
        ApicalDiagnosis.NotYet,
        new PreviousTreatment(null, OldFilling.Unknown, null, null, null),
        [],
        null,
        Probed: false,
        Restorability.NotYet,
        Restorability.NotYet,
        ExplorationOnlyAgreed: false,
        null,
        null);
}
