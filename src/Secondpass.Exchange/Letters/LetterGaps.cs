using Secondpass.Domain.Cases;
using Secondpass.Domain.Chairside;

namespace Secondpass.Exchange.Letters;

/// <summary>What a colleague will look for in the reply and the case doesn't hold: said to the dentist before the letter is made.</summary>
public static class LetterGaps
{
    /// <summary>What is missing, one sentence each.</summary>
    /// <param name="facts">What is known.</param>
    public static IReadOnlyList<string> Of(LetterFacts facts)
    {
        ArgumentNullException.ThrowIfNull(facts);
        var dental = facts.Case;
        var gaps = new List<string>();
        if (string.IsNullOrWhiteSpace(dental.Referral.Referrer))
        {
            gaps.Add("No referrer is noted: nobody is addressed.");
        }

        if (!string.IsNullOrWhiteSpace(dental.Referral.Question))
        {
            gaps.Add($"The colleague asked: “{dental.Referral.Question.Trim()}”. The answer is yours to write.");
        }

        foreach (var visit in facts.Visits)
        {
            var removal = VisitMinutes.Of(dental.Chairside, visit)[VisitPhase.Removal];
            if (removal.Remark is { } remark)
            {
                gaps.Add(FormattableString.Invariant($"Minutes of visit {visit}: {remark}"));
            }
        }

        gaps.AddRange(facts.Entries.OfType<EventHappened>()
            .Where(happened => string.IsNullOrWhiteSpace(happened.ToldTo))
            .Select(happened => $"{CaseInWords.Event(happened, facts)} It is not noted who was told."));
        gaps.AddRange(dental.Canals
            .Where(canal => canal is { Intent: CanalIntent.LeaveAlone, WhyLeftAlone: null })
            .Select(canal => canal.Name)
            .Take(1)
            .Select(_ => "Canals were left alone: say why, where the letter doesn't."));
        if (facts.LastFinish is not { } last)
        {
            gaps.Add("There is no finish note yet.");
            return gaps;
        }

        gaps.AddRange(dental.Canals
            .Where(canal => canal is { Found: true, Intent: CanalIntent.Retreat } && facts.FinishOf(canal.Name)?.WorkingLength is null)
            .Select(canal => $"{canal.Name} has no working length in the finish note."));
        if (last.Finished && last.RestorationUntil is null)
        {
            gaps.Add("It is not said by when the tooth is to be restored.");
        }

        return gaps;
    }
}
