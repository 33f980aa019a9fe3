using System.Globalization;
using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Records;

namespace Secondpass.Job.Cases;

/// <summary>First stage of a case: a referral becomes a case, and can be entered anew later.</summary>
/// <param name="store">Where it is kept.</param>
/// <param name="papers">Takes in the letter that came with it.</param>
/// <param name="clinic">Says in which notation the clinic writes teeth.</param>
public sealed class OpenCase(ClinicStore store, ReceivePaper papers, ClinicHabits clinic)
{
    /// <summary>Opens a case.</summary>
    /// <param name="form">The referral as typed; questions back are put into <see cref="ReferralForm.Confirmed"/>, so that sending it again answers them.</param>
    /// <param name="letter">The referral letter as a file, or null.</param>
    /// <param name="by">Who opens it.</param>
    /// <returns>The case; or a refusal: no number, no reason, no such tooth, a file that is no letter, disk full; or a question back.</returns>
    public Answer<DentalCase> Open(ReferralForm form, SentFile? letter, Writer by)
    {
        ArgumentNullException.ThrowIfNull(form);
        ArgumentNullException.ThrowIfNull(by);
        if (!form.ReadPatient().TryGet(out var patient, out var refusal)
            || !WrittenTooth.Read(form.Tooth, clinic.Notation).TryGet(out var tooth, out refusal)
            || !form.ReadReferral().TryGet(out var referral, out refusal)
            || !form.ReadHealth().TryGet(out var health, out refusal))
        {
            return refusal;
        }

        if (QuestionBack(form, patient, tooth) is { } question)
        {
            form.Confirmed = string.Join('\n', form.Confirmed, question.Reason);
            return question;
        }

        var events = new List<CaseEvent>(health);
        if (letter is not null)
        {
            if (!papers.Receive(letter).TryGet(out var kept, out refusal))
            {
                return refusal;
            }

            events.Add(new PaperAttached(kept));
        }

        return store.Cases.Open(new CaseOpened(patient, tooth.Tooth, referral), by.Author, events);
    }

    /// <summary>Enters the referral of a case anew; only what changed is noted.</summary>
    /// <param name="id">The case.</param>
    /// <param name="form">The referral as typed. Tooth and patient stay what they are.</param>
    /// <param name="letter">Another paper that came with it, or null.</param>
    /// <param name="by">Who enters it.</param>
    /// <returns>The case; or a refusal as for <see cref="Open"/>, or that somebody changed it meanwhile.</returns>
    public Answer<DentalCase> Change(CaseId id, ReferralForm form, SentFile? letter, Writer by)
    {
        ArgumentNullException.ThrowIfNull(form);
        ArgumentNullException.ThrowIfNull(by);
        if (!form.ReadReferral().TryGet(out var referral, out var refusal)
            || !form.ReadHealth().TryGet(out var health, out refusal)
            || !store.Cases.Read(id).TryGet(out var it, out refusal))
        {
            return refusal;
        }

        var events = new List<CaseEvent>();
        if (referral != it.Referral)
        {
            events.Add(new ReferralChanged(referral));
        }

        events.AddRange(health.Where(answered => it.Health.GetValueOrDefault(answered.Question) != answered.Answer));
        if (letter is not null)
        {
            if (!papers.Receive(letter).TryGet(out var kept, out refusal))
            {
                return refusal;
            }

            events.Add(new PaperAttached(kept));
        }

        return events.Count == 0 ? it : store.Cases.Append(id, form.Version, by.Author, events);
    }

    // Each is asked once: the form that comes back says that it was read.
    private Refusal? QuestionBack(ReferralForm form, Patient patient, WrittenTooth tooth)
    {
        var confirmed = (form.Confirmed ?? string.Empty).Split('\n');
        return Questions().FirstOrDefault(question => !confirmed.Contains(question.Reason));

        IEnumerable<Refusal> Questions()
        {
            if (tooth.Notation != clinic.Notation)
            {
                yield return new Refusal(
                    "other_notation",
                    $"“{form.Tooth?.Trim()}” is no tooth in {WrittenTooth.NameOf(clinic.Notation)}; in {WrittenTooth.NameOf(tooth.Notation)} it is the {tooth.Tooth.Words}, {tooth.Tooth}.",
                    $"If you mean the {tooth.Tooth.Words}, send it again; otherwise correct the tooth.");
            }

            foreach (var other in store.Cases.List().Where(line => line.PatientNumber == patient.Number))
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
}
