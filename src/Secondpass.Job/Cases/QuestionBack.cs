using System.Globalization;
using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Records;

namespace Secondpass.Job.Cases;

/// <summary>A question that is asked once before something is noted: the form that comes back says that it was read.</summary>
/// <param name="Refusal">The question.</param>
/// <param name="Confirmed">What the form says from now on, so that sending it again answers the question.</param>
internal sealed record QuestionBack(Refusal Refusal, string Confirmed)
{
    /// <summary>The first question that wasn't read yet; null when all were.</summary>
    /// <param name="confirmed">What the form says was read.</param>
    /// <param name="questions">The questions in order.</param>
    public static QuestionBack? First(string? confirmed, IEnumerable<Refusal> questions)
    {
        var read = (confirmed ?? string.Empty).Split('\n');
        return questions.FirstOrDefault(question => !read.Contains(question.Reason)) is { } asked
            ? new QuestionBack(asked, string.Join('\n', confirmed, asked.Reason))
            : null;
    }

    /// <summary>What may be meant otherwise: the tooth, the patient, or whether there is a case already.</summary>
    /// <param name="store">The other cases.</param>
    /// <param name="notation">The clinic's notation.</param>
    /// <param name="typed">The tooth as typed.</param>
    /// <param name="tooth">The tooth as read.</param>
    /// <param name="patient">The patient.</param>
    /// <param name="of">The case that is being corrected; null for a new one.</param>
    public static IEnumerable<Refusal> WhoAndWhich(ClinicStore store, ToothNotation notation, string? typed, WrittenTooth tooth, Patient patient, CaseId? of = null)
    {
        if (tooth.Notation != notation)
        {
            yield return new Refusal(
                "other_notation",
                $"“{typed?.Trim()}” is no tooth in {WrittenTooth.NameOf(notation)}; in {WrittenTooth.NameOf(tooth.Notation)} it is the {tooth.Tooth.Words}, {tooth.Tooth}.",
                $"If you mean the {tooth.Tooth.Words}, send it again; otherwise correct the tooth.");
        }

        foreach (var other in store.Cases.List().Where(line => line.PatientNumber == patient.Number && line.Id != of))
        {
            if (patient.Name is { } name && other.PatientName is { } known && !string.Equals(name, known, StringComparison.OrdinalIgnoreCase))
            {
                yield return new Refusal(
                    "other_name",
                    $"Patient {patient.Number} is called “{known}” in another case; here it is “{name}”.",
                    "If both are the same person, send it again; otherwise correct the number or the name.");
            }

            if (other.Tooth == tooth.Tooth)
            {
                yield return new Refusal(
                    "tooth_has_case",
                    string.Create(CultureInfo.InvariantCulture, $"There is a case of patient {patient.Number} for the {tooth.Tooth.Words} already, opened on {other.OpenedAt:d MMMM yyyy}."),
                    "If a new case is meant, send it again; otherwise choose the other one in the list of cases.");
            }
        }
    }
}
