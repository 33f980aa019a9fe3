using Secondpass.Domain.Anatomy;

namespace Secondpass.Domain.Cases;

/// <summary>A case was opened.</summary>
/// <param name="Patient">The clinic's own patient number, and the name where the clinic enters one.</param>
/// <param name="Tooth">The tooth.</param>
/// <param name="Referral">Who sent it and why.</param>
public sealed record CaseOpened(Patient Patient, ToothNumber Tooth, Referral Referral) : CaseEvent;

/// <summary>The referral was entered anew: the last one holds.</summary>
/// <param name="Referral">The referral.</param>
public sealed record ReferralChanged(Referral Referral) : CaseEvent;

/// <summary>The patient's number or name was wrong and was corrected: the last one holds.</summary>
/// <param name="Patient">The right one.</param>
/// <param name="Reason">Why it was wrong, in words.</param>
public sealed record PatientCorrected(Patient Patient, string Reason) : CaseEvent;

/// <summary>The tooth was wrong and was corrected: the last one holds, and a plan made for the other one no longer does.</summary>
/// <param name="Tooth">The right one.</param>
/// <param name="Reason">Why it was wrong, in words.</param>
public sealed record ToothCorrected(ToothNumber Tooth, string Reason) : CaseEvent;

/// <summary>A question that matters before treatment was answered.</summary>
/// <param name="Question">The question.</param>
/// <param name="Answer">The answer.</param>
public sealed record HealthAnswered(HealthQuestion Question, HealthAnswer Answer) : CaseEvent;

/// <summary>A letter or another paper that came with the referral was stored.</summary>
/// <param name="File">The file.</param>
public sealed record PaperAttached(AttachedFile File) : CaseEvent;

/// <summary>A patient as the clinic knows them.</summary>
/// <param name="Number">The clinic's own number; not empty.</param>
/// <param name="Name">The name, or null where the clinic keeps it elsewhere.</param>
public sealed record Patient(string Number, string? Name)
{
    /// <summary>The date of birth; null where the clinic keeps it elsewhere.</summary>
    public DateOnly? Born { get; init; }
}

/// <summary>Who sent a case, and who must get the reply.</summary>
/// <param name="Referrer">The colleague's name; null when nobody sent the patient.</param>
/// <param name="Practice">Practice and address, as it stands on the letter.</param>
/// <param name="Reason">Why the tooth was sent, in words.</param>
/// <param name="Question">What the colleague asks, in words; null when nothing.</param>
/// <param name="Urgent">Whether it was sent as urgent.</param>
/// <param name="LetterText">The referral letter as pasted text; null when there is none or it is attached as a file.</param>
public sealed record Referral(string? Referrer, string? Practice, string Reason, string? Question, bool Urgent, string? LetterText);

/// <summary>What is asked before treatment.</summary>
public enum HealthQuestion
{
    /// <summary>Illnesses and medicines.</summary>
    MedicalHistory,

    /// <summary>Allergies, latex and chlorhexidine among them.</summary>
    Allergies,

    /// <summary>Medicines against clotting.</summary>
    Anticoagulants,

    /// <summary>Medicines against bone loss.</summary>
    Antiresorptives,

    /// <summary>Pacemakers and other implanted devices: ultrasonics and length meters matter.</summary>
    ImplantedDevices,
}

/// <summary>An answer. A question that was not asked has none, and is shown as "not asked".</summary>
/// <param name="Yes">Whether there is something.</param>
/// <param name="Detail">What it is, in words; null when nothing.</param>
public sealed record HealthAnswer(bool Yes, string? Detail);

/// <summary>A file that belongs to a case, stored untouched under its hash.</summary>
/// <param name="Sha256">SHA-256 of its bytes, 64 lower-case hexadecimal digits.</param>
/// <param name="Name">The name it came with.</param>
/// <param name="MediaType">Its media type as found by content, such as application/pdf.</param>
public sealed record AttachedFile(string Sha256, string Name, string MediaType);
