using System.Globalization;
using Secondpass.Domain;
using Secondpass.Domain.Cases;

namespace Secondpass.Job.Cases;

/// <summary>A referral as it is being typed: nothing is refused before it is asked to be kept, and nothing typed gets lost.</summary>
public sealed class ReferralForm
{
    /// <summary>The clinic's own patient number.</summary>
    public string? PatientNumber { get; set; }

    /// <summary>The patient's name, where the clinic enters one.</summary>
    public string? PatientName { get; set; }

    /// <summary>The patient's date of birth, where the clinic enters it.</summary>
    public string? PatientBorn { get; set; }

    /// <summary>The tooth, in any notation.</summary>
    public string? Tooth { get; set; }

    /// <summary>Who sent it.</summary>
    public string? Referrer { get; set; }

    /// <summary>Practice and address.</summary>
    public string? Practice { get; set; }

    /// <summary>Why the tooth was sent.</summary>
    public string? Reason { get; set; }

    /// <summary>What the colleague asks.</summary>
    public string? Question { get; set; }

    /// <summary>Whether it was sent as urgent.</summary>
    public bool Urgent { get; set; }

    /// <summary>The referral letter as pasted text.</summary>
    public string? LetterText { get; set; }

    /// <summary>One line for each question before treatment, in their order.</summary>
    public List<HealthLine> Health { get; set => field = value ?? []; } = [.. Enum.GetValues<HealthQuestion>().Select(question => new HealthLine { Question = question })];

    /// <summary>The version of the case that the form was filled from; 0 for a new case.</summary>
    public long Version { get; set; }

    /// <summary>Questions back that were shown and are answered by sending the form again, as they were shown.</summary>
    public string? Confirmed { get; set; }

    /// <summary>The form filled from a case.</summary>
    public static ReferralForm Of(DentalCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        return new ReferralForm
        {
            PatientNumber = it.Patient.Number,
            PatientName = it.Patient.Name,
            PatientBorn = it.Patient.Born?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
            Tooth = it.Tooth.ToString(),
            Referrer = it.Referral.Referrer,
            Practice = it.Referral.Practice,
            Reason = it.Referral.Reason,
            Question = it.Referral.Question,
            Urgent = it.Referral.Urgent,
            LetterText = it.Referral.LetterText,
            Health = [.. Enum.GetValues<HealthQuestion>().Select(question => HealthLine.Of(question, it.Health.GetValueOrDefault(question)))],
            Version = it.Version,
        };
    }

    internal Answer<Patient> ReadPatient()
    {
        var number = (PatientNumber ?? string.Empty).Trim();
        if (number.Length is 0 or > 40)
        {
            return new Refusal(
                "patient_number",
                number.Length == 0 ? "There is no patient number." : $"The patient number “{number}” has more than 40 characters.",
                "Enter the number under which your clinic knows the patient.");
        }

        return Typed.Day("The date of birth", PatientBorn).TryGet(out var born, out var refusal)
            ? new Patient(number, Typed.Text(PatientName)) { Born = born.Value }
            : refusal;
    }

    internal Answer<Referral> ReadReferral() => Typed.Text(Reason) is { } reason
        ? new Referral(Typed.Text(Referrer), Typed.Text(Practice), reason, Typed.Text(Question), Urgent, Typed.Text(LetterText))
        : new Refusal("no_reason", "It is not said why the tooth was sent.", "Say it in a few words, such as “pain on biting” or “lesion on the mesiobuccal root”.");

    internal Answer<IReadOnlyList<HealthAnswered>> ReadHealth()
    {
        var answers = new List<HealthAnswered>();
        foreach (var line in Health)
        {
            if (line.Says == HealthLine.Yes && Typed.Text(line.Detail) is null)
            {
                return new Refusal(
                    "health_detail",
                    $"{HealthLine.InWords(line.Question)}: the answer is yes, and it is not said what.",
                    "Say what it is, or choose “not asked”.");
            }

            if (line.Says is HealthLine.Yes or HealthLine.No)
            {
                answers.Add(new HealthAnswered(line.Question, new HealthAnswer(line.Says == HealthLine.Yes, Typed.Text(line.Detail))));
            }
        }

        return answers;
    }
}

/// <summary>One question before treatment, and what is being answered.</summary>
public sealed class HealthLine
{
    /// <summary>There is something.</summary>
    public const string Yes = "yes";

    /// <summary>There is nothing.</summary>
    public const string No = "no";

    /// <summary>The question.</summary>
    public HealthQuestion Question { get; set; }

    /// <summary><see cref="Yes"/>, <see cref="No"/>, or anything else for "not asked".</summary>
    public string? Says { get; set; }

    /// <summary>What it is.</summary>
    public string? Detail { get; set; }

    /// <summary>The question in words.</summary>
    public static string InWords(HealthQuestion question) => question switch
    {
        HealthQuestion.MedicalHistory => "Illnesses and medicines",
        HealthQuestion.Allergies => "Allergies",
        HealthQuestion.Anticoagulants => "Medicines against clotting",
        HealthQuestion.Antiresorptives => "Medicines against bone loss",
        _ => "Pacemaker or another implanted device",
    };

    /// <summary>The question in as few words as go into one line with the others.</summary>
    public static string InFewWords(HealthQuestion question) => question switch
    {
        HealthQuestion.MedicalHistory => "illnesses and medicines",
        HealthQuestion.Allergies => "allergies",
        HealthQuestion.Anticoagulants => "medicines against clotting",
        HealthQuestion.Antiresorptives => "medicines against bone loss",
        _ => "implanted devices",
    };

    /// <summary>Why the question matters here.</summary>
    public static string Why(HealthQuestion question) => question switch
    {
        HealthQuestion.MedicalHistory => "before any treatment",
        HealthQuestion.Allergies => "latex, chlorhexidine, local anaesthetic and others",
        HealthQuestion.Anticoagulants => "before anything that may bleed",
        HealthQuestion.Antiresorptives => "before surgery or extraction is offered",
        _ => "ultrasonics and length meters: follow the device maker's instructions",
    };

    internal static HealthLine Of(HealthQuestion question, HealthAnswer? answer) => new()
    {
        Question = question,
        Says = answer is null ? null : answer.Yes ? Yes : No,
        Detail = answer?.Detail,
    };
}
