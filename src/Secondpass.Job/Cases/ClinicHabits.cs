using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Clinics;
using Secondpass.Domain.Quantities;
using Secondpass.Records;

namespace Secondpass.Job.Cases;

/// <summary>How this clinic writes things.</summary>
/// <param name="store">Where it is kept.</param>
public sealed class ClinicHabits(ClinicStore store)
{
    /// <summary>The notation in which it writes teeth.</summary>
    public ToothNotation Notation => store.Clinic.Read().Notation;

    /// <summary>Chooses the notation for the whole clinic; cases are not touched, they hold ISO 3950.</summary>
    /// <param name="notation">The notation.</param>
    /// <param name="by">Who chooses it.</param>
    /// <returns>The notation; or a refusal: changed meanwhile, disk full.</returns>
    public Answer<ToothNotation> Choose(ToothNotation notation, Writer by)
    {
        ArgumentNullException.ThrowIfNull(by);
        var clinic = store.Clinic.Read();
        return clinic.Notation == notation || store.Clinic.Append(clinic.Version, by.Author, [new NotationChosen(notation)]).TryGet(out _, out var refusal)
            ? notation
            : refusal;
    }

    /// <summary>The currency in which it tells fees, in three letters of ISO 4217; null until one was chosen.</summary>
    public string? CurrencyCode => store.Clinic.Read().CurrencyCode;

    /// <summary>Chooses the currency for the whole clinic; amounts noted before keep the one that they were noted in.</summary>
    /// <param name="typed">Its three letters as typed; nothing for none.</param>
    /// <param name="by">Who chooses it.</param>
    /// <returns>The clinic; or a refusal: no such currency, changed meanwhile, disk full.</returns>
    public Answer<Clinic> ChooseCurrency(string? typed, Writer by)
    {
        ArgumentNullException.ThrowIfNull(by);
        string? code = null;
        if (Typed.Text(typed) is { } text && !Currencies.Read(text).TryGet(out code, out var unknown))
        {
            return unknown;
        }

        var clinic = store.Clinic.Read();
        return clinic.CurrencyCode == code ? clinic : store.Clinic.Append(clinic.Version, by.Author, [new CurrencyChosen(code)]);
    }
}
