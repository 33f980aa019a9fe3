using Secondpass.Domain.Anatomy;

namespace Secondpass.Domain.Films;

/// <summary>What a film's own file says of whom and what it shows, and when it was taken. Not what the clinic noted: it is as right as what was typed at the sensor.</summary>
/// <remarks>Personal: shown beside a case so that a film of somebody else is noticed, never stored, and in no notice and no refusal.</remarks>
/// <param name="PatientName">The name as the file writes it, family name first, such as "Doe, Jane"; or null.</param>
/// <param name="PatientNumber">The number in the program that the film was taken with; or null.</param>
/// <param name="BirthDate">The patient's birth date; or null.</param>
/// <param name="TakenOn">The day of the exposure, or of the visit where that isn't said; or null.</param>
/// <param name="Teeth">The teeth that the file names, by codes that are known; may be empty.</param>
/// <param name="Region">What else it says of the region, in its own words; or null.</param>
public sealed record FilmSubject(
    string? PatientName,
    string? PatientNumber,
    DateOnly? BirthDate,
    DateOnly? TakenOn,
    IReadOnlyList<ToothNumber> Teeth,
    string? Region);
