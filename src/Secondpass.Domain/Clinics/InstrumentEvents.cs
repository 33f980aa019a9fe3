using Secondpass.Domain.Instruments;
using Secondpass.Domain.Plans;

namespace Secondpass.Domain.Clinics;

/// <summary>A kind of instrument was entered, or entered again: the last entry of its code holds.</summary>
/// <param name="Kind">The kind.</param>
public sealed record KindEntered(InstrumentKind Kind) : ClinicEvent;

/// <summary>An instrument was taken into stock.</summary>
/// <param name="ItemId">Its identity.</param>
/// <param name="KindCode">Its kind.</param>
/// <param name="Position">Where it stands, such as "kit A, 3"; null when loose.</param>
/// <param name="UsesBefore">Uses that it had before.</param>
public sealed record ItemAdded(string ItemId, string KindCode, string? Position, int UsesBefore) : ClinicEvent;

/// <summary>An instrument was put to another position.</summary>
/// <param name="ItemId">Its identity.</param>
/// <param name="Position">Where it stands now; null when loose.</param>
public sealed record ItemPlaced(string ItemId, string? Position) : ClinicEvent;

/// <summary>An instrument was taken out of use.</summary>
/// <param name="ItemId">Its identity.</param>
/// <param name="Reason">Why, in words.</param>
public sealed record ItemRetired(string ItemId, string Reason) : ClinicEvent;

/// <summary>The ultrasonic unit was entered: the last one holds.</summary>
/// <param name="Unit">The unit.</param>
public sealed record UltrasonicUnitEntered(UltrasonicUnit Unit) : ClinicEvent;

/// <summary>A sequence was saved: the last one of its name holds.</summary>
/// <param name="Sequence">The sequence.</param>
public sealed record SequenceSaved(Sequence Sequence) : ClinicEvent;

/// <summary>A sequence was given up.</summary>
/// <param name="Name">Its name.</param>
public sealed record SequenceGivenUp(string Name) : ClinicEvent;

/// <summary>The clinic said what it does about solvents: the last word holds.</summary>
/// <param name="Preference">The preference.</param>
public sealed record SolventPreferred(SolventPreference Preference) : ClinicEvent;

/// <summary>The clinic set its own limits for plans: the last ones hold.</summary>
/// <param name="Limits">The limits.</param>
public sealed record PlanLimitsSet(PlanLimits Limits) : ClinicEvent;

/// <summary>The clinic said how uses of instruments are counted: the last word holds, for uses noted before too.</summary>
/// <param name="Count">How they are counted.</param>
public sealed record UseCountChosen(UseCount Count) : ClinicEvent;
