using Secondpass.Domain.Cases;
using Secondpass.Domain.Chairside;
using Secondpass.Exchange.Wording;

namespace Secondpass.Exchange.Letters;

/// <summary>Assembles the patient's copy in plain words: no figures of instruments, no abbreviations of canals.</summary>
public static class PatientDraft
{
    /// <summary>The patient's copy as the case gives it. What isn't noted is left out, never made up.</summary>
    /// <param name="facts">What is known.</param>
    public static LetterDraft Of(LetterFacts facts)
    {
        ArgumentNullException.ThrowIfNull(facts);
        var dental = facts.Case;
        var name = CaseInWords.Said(dental.Patient.Name);
        return new LetterDraft(
            LetterKind.Patient,
            [.. new[] { name }.OfType<string>(), $"Patient number {dental.Patient.Number}"],
            $"Your {dental.Tooth.Words} (tooth {dental.Tooth})",
            name is null ? "Dear patient," : $"Dear {name},",
            [
                .. new LetterParagraph[]
                {
                    new(string.Empty, Opening(facts)),
                    new("What we did", Done(facts)),
                    new("Good to know", Events(facts)),
                    new("What comes next", Next(facts)),
                    new("Until then", CaseInWords.Sentence(facts.LastFinish?.Instructions)),
                    new("Please call us", Call(facts)),
                }.Where(paragraph => paragraph.Text.Length > 0),
            ],
            ["With kind regards,", facts.From.Dentist]);
    }

    private static string Opening(LetterFacts facts)
    {
        if (facts.Visits.Count == 0)
        {
            return "You came to us because an earlier root-canal treatment of this tooth has to be done again.";
        }

        var day = facts.DayOf(facts.Visits[^1]) is { } last ? $" on {CaseInWords.Date(last)}" : string.Empty;
        return facts.LastFinish?.Finished == true
            ? $"The root canals of this tooth were treated again; we finished{day}."
            : $"The root canals of this tooth are being treated again; your last visit was{day}. The treatment is not complete yet.";
    }

    private static string Done(LetterFacts facts)
    {
        var treated = facts.Case.Canals.Where(canal => canal is { Found: true, Intent: not CanalIntent.LeaveAlone }).ToList();
        if (facts.Visits.Count == 0 || treated.Count == 0)
        {
            return string.Empty;
        }

        var sentences = new List<string>();
        var refilled = treated.Count(canal => CaseInWords.Said(facts.FinishOf(canal.Name)?.MasterCone ?? facts.FinishOf(canal.Name)?.Method) is not null);
        sentences.Add(refilled == treated.Count
            ? $"We took the old filling out, cleaned {Canals(treated.Count)} and filled {(treated.Count == 1 ? "it" : "them")} again."
            : $"We worked on {Canals(treated.Count)}; {(refilled == 0 ? "none is" : refilled == 1 ? "one is" : $"{refilled} are")} filled again so far.");
        if (treated.Count(canal => canal.Filling == CanalFilling.Unfilled) is > 0 and var missed)
        {
            sentences.Add(missed == 1 ? "One of them had not been treated before." : $"{missed} of them had not been treated before.");
        }

        var left = facts.Case.Canals.Where(canal => canal.Intent == CanalIntent.LeaveAlone).ToList();
        if (left.Count is > 0 and var alone)
        {
            var reasons = left.Select(canal => canal.WhyLeftAlone).OfType<string>().Distinct().ToList();
            var why = reasons.Count > 0 ? $" (reason: {string.Join("; ", reasons)})" : string.Empty;
            sentences.Add($"{(alone == 1 ? "One other canal was" : $"{alone} other canals were")} left as {(alone == 1 ? "it was" : "they were")}{why}.");
        }

        var chair = facts.Visits.Select(visit => VisitMinutes.Of(facts.Case.Chairside, visit)[VisitPhase.Chair].ElapsedMinutes).ToList();
        if (chair.TrueForAll(minutes => minutes is not null))
        {
            sentences.Add($"You were in the chair for {string.Join(" and ", chair.Select(minutes => MinutesWords.Whole(minutes!.Value)))} minutes.");
        }

        return string.Join(" ", sentences);
    }

    private static string Canals(int count) => count == 1 ? "one root canal" : FormattableString.Invariant($"{count} root canals");

    private static string Events(LetterFacts facts) => string.Join(" ", facts.Entries.OfType<EventHappened>().Select(happened =>
    {
        var fragment = happened.FragmentLength is { } length ? $" The piece is {CaseInWords.Length(length)} long." : string.Empty;
        return happened.Event switch
        {
            ProceduralEvent.SeparatedInstrument => $"The tip of an instrument broke off in a canal.{fragment}",
            ProceduralEvent.PerforationSuspected => "There may be a small hole in the wall of a root.",
            ProceduralEvent.BeyondApex => "Some filling or rinse went beyond the tip of the root.",
            ProceduralEvent.FileStops or ProceduralEvent.Ledge => "In one canal the way to the tip of the root is blocked.",
            _ => CaseInWords.Sentence(happened.Note),
        };
    }).Where(sentence => sentence.Length > 0).Distinct());

    private static string Next(LetterFacts facts)
    {
        if (facts.LastFinish is not { } last)
        {
            return string.Empty;
        }

        var sentences = new List<string>();
        if (!last.Finished)
        {
            sentences.Add("Please come back to us so that we can finish.");
        }

        if (CaseInWords.Restoration(last) is { } restoration)
        {
            sentences.Add($"Please have the lasting filling or crown made{restoration}");
        }

        if (last.CallOn is { } call)
        {
            sentences.Add($"We will call you on {CaseInWords.Date(call)} to ask how you are.");
        }

        return string.Join(" ", sentences);
    }

    private static string Call(LetterFacts facts)
    {
        var phone = CaseInWords.Said(facts.From.Phone) is { } number ? $" on {number}" : string.Empty;
        return $"Call us{phone} if pain gets worse instead of better, if your face or gum swells, if you have a fever, or if the filling comes out. If swelling makes it hard to swallow, to breathe or to see, call the emergency number at once.";
    }
}
