using Secondpass.Domain;
using Secondpass.Domain.Clinics;
using Secondpass.Job.Cases;
using Secondpass.Records;

namespace Secondpass.Job.Letters;

/// <summary>How the clinic is named on its letters, as it is being typed.</summary>
public sealed class LetterheadForm
{
    /// <summary>The clinic's name.</summary>
    public string? Name { get; set; }

    /// <summary>Its address, line by line.</summary>
    public string? Address { get; set; }

    /// <summary>Who signs.</summary>
    public string? Dentist { get; set; }

    /// <summary>The signer's registration.</summary>
    public string? Registration { get; set; }

    /// <summary>Telephone number.</summary>
    public string? Phone { get; set; }

    /// <summary>The version of the clinic's record that the form was filled from.</summary>
    public long Version { get; set; }
}

/// <summary>The letterhead: entered once, used on every letter.</summary>
/// <param name="store">Where it is kept.</param>
public sealed class Letterhead(ClinicStore store)
{
    /// <summary>The form, filled with what is known.</summary>
    public LetterheadForm Form()
    {
        var clinic = store.Clinic.Read();
        return new LetterheadForm
        {
            Name = clinic.Details?.Name,
            Address = clinic.Details is { } details ? string.Join('\n', details.AddressLines) : null,
            Dentist = clinic.Details?.Dentist,
            Registration = clinic.Details?.Registration,
            Phone = clinic.Details?.Phone,
            Version = clinic.Version,
        };
    }

    /// <summary>Keeps the letterhead.</summary>
    /// <returns>The details; or a refusal: no name, nobody who signs, changed meanwhile, disk full.</returns>
    public Answer<ClinicDetails> Keep(LetterheadForm form, Writer by)
    {
        ArgumentNullException.ThrowIfNull(form);
        ArgumentNullException.ThrowIfNull(by);
        if (Typed.Text(form.Name) is not { } name || Typed.Text(form.Dentist) is not { } dentist)
        {
            return new Refusal("letterhead_incomplete", "A letterhead has the clinic's name and the name of who signs.", "Enter both; the rest may stay empty.");
        }

        var lines = (form.Address ?? string.Empty).Split(['\n', '\r'], StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);
        var details = new ClinicDetails(name, lines, dentist, Typed.Text(form.Registration), Typed.Text(form.Phone));
        return store.Clinic.Append(form.Version, by.Author, [new ClinicNamed(details)]).TryGet(out _, out var refusal) ? details : refusal;
    }
}
