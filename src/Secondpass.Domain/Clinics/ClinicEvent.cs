using Secondpass.Domain.Anatomy;

namespace Secondpass.Domain.Clinics;

/// <summary>Something that was noted about the clinic itself: its letterhead, its instruments, its sequences. A correction is another one.</summary>
/// <remarks>Not a <see cref="Cases.CaseEvent"/>: nothing here is about a patient.</remarks>
public abstract record ClinicEvent;

/// <summary>The clinic's details were entered: the last ones hold.</summary>
/// <param name="Details">The details.</param>
public sealed record ClinicNamed(ClinicDetails Details) : ClinicEvent;

/// <summary>The notation was chosen in which the clinic writes teeth: the last one holds.</summary>
/// <param name="Notation">The notation.</param>
public sealed record NotationChosen(ToothNotation Notation) : ClinicEvent;

/// <summary>The currency was chosen in which the clinic tells fees: the last one holds, for amounts noted from then on.</summary>
/// <param name="CurrencyCode">Its three letters in ISO 4217; null for none.</param>
public sealed record CurrencyChosen(string? CurrencyCode) : ClinicEvent;

/// <summary>How the clinic is named on its letters.</summary>
/// <param name="Name">Its name.</param>
/// <param name="AddressLines">Its address, line by line.</param>
/// <param name="Dentist">Who signs.</param>
/// <param name="Registration">The signer's registration as local rules want it on a letter; null when none.</param>
/// <param name="Phone">Its telephone number; null when none.</param>
public sealed record ClinicDetails(string Name, IReadOnlyList<string> AddressLines, string Dentist, string? Registration, string? Phone);
