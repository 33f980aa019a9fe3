using System.Globalization;
using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Records;

namespace Secondpass.Job.Cases;

/// <summary>Corrects a case that was opened for a wrong patient number, name or tooth: what stood there before stays in its history.</summary>
/// <param name="store">Where it is kept.</param>
/// <param name="clinic">Says in which notation the clinic writes teeth.</param>
public sealed class CorrectCase(ClinicStore store, ClinicHabits clinic)
{
    /// <summary>Corrects patient and tooth; only what changed is noted.</summary>
    /// <param name="id">The case.</param>
    /// <param name="form">The right ones as typed, with the reason; questions back are put into <see cref="CaseCorrectionForm.Confirmed"/>, so that sending it again answers them.</param>
    /// <param name="by">Who corrects it.</param>
    /// <returns>The case; or a refusal: no reason, no such tooth, the tooth was treated already, the patient has other cases, somebody changed it meanwhile; or a question back.</returns>
    public Answer<DentalCase> Correct(CaseId id, CaseCorrectionForm form, Writer by)
    {
        ArgumentNullException.ThrowIfNull(form);
        ArgumentNullException.ThrowIfNull(by);
        if (!form.ReadPatient().TryGet(out var patient, out var refusal)
            || !WrittenTooth.Read(form.Tooth, clinic.Notation).TryGet(out var tooth, out refusal)
            || !store.Cases.Read(id).TryGet(out var it, out refusal))
        {
            return refusal;
        }

        var (otherPatient, otherTooth) = (patient != it.Patient, tooth.Tooth != it.Tooth);
        if (!otherPatient && !otherTooth)
        {
            return it;
        }

        if (otherTooth && WhyNot(it) is { } treated)
        {
            return treated;
        }

        if (Typed.Text(form.Reason) is not { } reason)
        {
            return new Refusal("no_reason_to_correct", "It is not said why it was wrong.", "Say it in a few words, such as “digits swapped” or “referral read wrongly”. It stays in the history.");
        }

        IEnumerable<Refusal> questions = otherTooth
            ? [.. QuestionBack.WhoAndWhich(store, clinic.Notation, form.Tooth, tooth, patient, id), WhatDependsOnIt(it, tooth.Tooth)]
            : QuestionBack.WhoAndWhich(store, clinic.Notation, null, tooth, patient, id);
        if (QuestionBack.First(form.Confirmed, questions) is { } question)
        {
            form.Confirmed = question.Confirmed;
            return question.Refusal;
        }

        IReadOnlyList<CaseEvent> events = otherTooth ? [new ToothCorrected(tooth.Tooth, reason)] : [];
        return otherPatient
            ? store.Cases.CorrectPatient(id, form.Version, by.Author, new PatientCorrected(patient, reason), events)
            : store.Cases.Append(id, form.Version, by.Author, events);
    }

    /// <summary>Why the tooth of a case can't be corrected any more; null when it can.</summary>
    public static Refusal? WhyNot(DentalCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        return it.Chairside.Count > 0 || it.Finishes.Count > 0 || it.Letters.Count > 0
            ? new Refusal(
                "tooth_was_treated",
                $"Treatment of the {it.Tooth.Words} is noted in this case, or a letter about it was made: a record of treatment is not moved to another tooth.",
                "Open a new case for the other tooth and enter there what holds; then write into the reason for referral here what was wrong. Letters that went out must be put right by another letter.")
            : null;
    }

    /// <summary>What was noted for the tooth as it stands, in words; empty when nothing.</summary>
    public static IReadOnlyList<string> Dependent(DentalCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        return
        [
            .. it.Canals.Count > 0 ? [$"canals {string.Join(", ", it.Canals.Select(canal => canal.Name))}"] : Array.Empty<string>(),
            .. it.Films.Count > 0 ? [it.Films.Count == 1 ? "1 film" : string.Create(CultureInfo.InvariantCulture, $"{it.Films.Count} films")] : Array.Empty<string>(),
            .. it.ConeBeam is not null ? ["a cone-beam scan"] : Array.Empty<string>(),
            .. it.Plan is not null ? ["the plan in use"] : Array.Empty<string>(),
            .. it.Comparisons.Count > 0 ? ["what is left"] : Array.Empty<string>(),
        ];
    }

    private static Refusal WhatDependsOnIt(DentalCase it, ToothNumber right)
    {
        var dependent = Dependent(it);
        return new Refusal(
            "confirm_tooth",
            dependent.Count == 0
                ? $"The tooth becomes the {right.Words}, {right}, instead of the {it.Tooth.Words}, {it.Tooth}."
                : $"The tooth becomes the {right.Words}, {right}, instead of the {it.Tooth.Words}, {it.Tooth}. Noted for that one: {string.Join("; ", dependent)}. {(it.Plan is null ? "All of it stays" : "The plan is dropped, the rest stays")} and must be looked through: films of the other tooth don't belong here.",
            $"If the case is about the {right.Words}, send it again; otherwise correct the tooth.");
    }
}

/// <summary>The right patient and tooth of a case as they are being typed.</summary>
public sealed class CaseCorrectionForm
{
    /// <summary>The clinic's own patient number.</summary>
    public string? PatientNumber { get; set; }

    /// <summary>The patient's name, where the clinic enters one.</summary>
    public string? PatientName { get; set; }

    /// <summary>The patient's date of birth, where the clinic enters it.</summary>
    public string? PatientBorn { get; set; }

    /// <summary>The tooth, in any notation.</summary>
    public string? Tooth { get; set; }

    /// <summary>Why it was wrong.</summary>
    public string? Reason { get; set; }

    /// <summary>The version of the case that the form was filled from.</summary>
    public long Version { get; set; }

    /// <summary>Questions back that were shown and are answered by sending the form again, as they were shown.</summary>
    public string? Confirmed { get; set; }

    /// <summary>The form filled from a case.</summary>
    /// <param name="it">The case.</param>
    /// <param name="notation">The notation in which the clinic writes teeth.</param>
    public static CaseCorrectionForm Of(DentalCase it, ToothNotation notation)
    {
        ArgumentNullException.ThrowIfNull(it);
        return new CaseCorrectionForm
        {
            PatientNumber = it.Patient.Number,
            PatientName = it.Patient.Name,
            PatientBorn = it.Patient.Born?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
            Tooth = new WrittenTooth(it.Tooth, notation).Text,
            Version = it.Version,
        };
    }

    internal Answer<Patient> ReadPatient() => new ReferralForm { PatientNumber = PatientNumber, PatientName = PatientName, PatientBorn = PatientBorn }.ReadPatient();
}
