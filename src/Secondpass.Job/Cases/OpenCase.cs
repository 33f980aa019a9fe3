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

        if (QuestionBack.First(form.Confirmed, QuestionBack.WhoAndWhich(store, clinic.Notation, form.Tooth, tooth, patient)) is { } question)
        {
            form.Confirmed = question.Confirmed;
            return question.Refusal;
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
}
