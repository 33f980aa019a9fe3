using Secondpass.Domain.Anatomy;

namespace Secondpass.Domain.Films;

/// <summary>Whom and what a film's file says it shows. Nothing of it was checked: somebody typed it at the sensor.</summary>
/// <param name="PatientName">The name as "Family, Given"; null when the file states none.</param>
/// <param name="Born">The date of birth; null when the file states none.</param>
/// <param name="PatientNumber">The patient's number; null when the file states none.</param>
/// <param name="Teeth">The teeth that it names; empty when it names none.</param>
/// <param name="TakenAt">When it was taken, as the clock on the wall showed it there, midnight where only the day is stated; null when the file doesn't say.</param>
public sealed record StatedIdentity(string? PatientName, DateOnly? Born, string? PatientNumber, IReadOnlyList<ToothNumber> Teeth, DateTime? TakenAt)
{
    /// <summary>What a file says that says nothing.</summary>
    public static StatedIdentity None { get; } = new(null, null, null, [], null);

    /// <summary>Whether it says anything of the patient.</summary>
    public bool NamesPatient => PatientName is not null || Born is not null || PatientNumber is not null;
}
