using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Chairside;
using Secondpass.Exchange.Wording;

namespace Secondpass.Exchange.Letters;

/// <summary>Assembles the reply to the colleague who sent the patient.</summary>
public static class ReplyDraft
{
    /// <summary>The reply as the case gives it. What isn't noted is left out, never made up.</summary>
    /// <param name="facts">What is known.</param>
    public static LetterDraft Of(LetterFacts facts)
    {
        ArgumentNullException.ThrowIfNull(facts);
        var dental = facts.Case;
        var referrer = CaseInWords.Said(dental.Referral.Referrer);
        var name = CaseInWords.Said(dental.Patient.Name) is { } known ? $"{known}, " : string.Empty;
        return new LetterDraft(
            LetterKind.Reply,
            [.. new[] { referrer }.OfType<string>(), .. Lines(dental.Referral.Practice)],
            $"{name}patient number {dental.Patient.Number}: {dental.Tooth.Words} (tooth {dental.Tooth}), root-canal re-treatment",
            referrer is null ? "Dear colleague," : $"Dear {referrer},",
            [
                .. new LetterParagraph[]
                {
                    new(string.Empty, Opening(facts)),
                    new("Found", Found(facts)),
                    new("Done", Done(facts)),
                    new("Left", Left(facts)),
                    new("Not treated", NotTreated(facts)),
                    new("Events", Events(facts)),
                    new("Next", Next(facts)),
                }.Where(paragraph => paragraph.Text.Length > 0),
            ],
            ["With kind regards,", facts.From.Dentist, .. new[] { CaseInWords.Said(facts.From.Registration) }.OfType<string>()]);
    }

    // The reader is the one it speaks of.
    private const string ReferringPractice = "by the referring practice";

    private static string Opening(LetterFacts facts)
    {
        var referral = facts.Case.Referral;
        var thanks = CaseInWords.Said(referral.Referrer) is null ? string.Empty : "Thank you for sending this patient to us. ";
        var reason = CaseInWords.Said(referral.Reason) is { } why ? $"The reason given was: {CaseInWords.Sentence(why)} " : string.Empty;
        var question = CaseInWords.Said(referral.Question) is { } asked ? $"You asked: {CaseInWords.Sentence(asked)} " : string.Empty;
        return (thanks + reason + question + Status(facts) + Time(facts)).Trim();
    }

    private static string Status(LetterFacts facts)
    {
        if (facts.Visits.Count == 0)
        {
            return "Treatment has not begun yet. ";
        }

        var visits = facts.Visits.Count == 1 ? "one visit" : $"{facts.Visits.Count} visits";
        var last = facts.DayOf(facts.Visits[^1]) is { } day ? $" on {CaseInWords.Date(day)}" : string.Empty;
        return facts.LastFinish?.Finished == true
            ? $"Treatment was completed{last}, in {visits}. "
            : $"Treatment is not complete yet; {visits} so far, the last{last}. ";
    }

    private static string Time(LetterFacts facts)
    {
        var removals = facts.Visits.Select(visit => VisitMinutes.Of(facts.Case.Chairside, visit)[VisitPhase.Removal]).Where(removal => removal.ElapsedMinutes is not null).ToList();
        return removals.Count == 0
            ? string.Empty
            : $"Removing the old filling took {string.Join(" and ", removals.Select(MinutesWords.Sentence))}.";
    }

    private static string Found(LetterFacts facts)
    {
        var (assessment, canals) = (facts.Case.Assessment, facts.Case.Canals);
        var sentences = new List<string>();
        var found = canals.Where(canal => canal.Found).ToList();
        if (found.Count > 0)
        {
            sentences.Add(found switch
            {
                [{ Name: ExpectedCanals.OnlyCanal }] => "One canal was found.",
                [var one] => $"One canal was found, the {ExpectedCanals.CanalInWords(one.Name)}.",
                _ => $"Canals found: {CaseInWords.List(found.Select(canal => canal.Name))}.",
            });
        }

        if (found.Where(canal => canal.Filling == CanalFilling.Unfilled).Select(canal => CaseInWords.Canal(canal.Name)).ToList() is { Count: > 0 } missed)
        {
            sentences.Add($"{CaseInWords.Upper(CaseInWords.List(missed))} held no filling: missed by the last treatment.");
        }

        if (found.Where(canal => canal.FoundLater).Select(canal => CaseInWords.Canal(canal.Name)).ToList() is { Count: > 0 } later)
        {
            sentences.Add($"{CaseInWords.Upper(CaseInWords.List(later))} {(later.Count == 1 ? "was" : "were")} found during treatment.");
        }

        if (canals.Where(canal => !canal.Found && canal.Intent == CanalIntent.LookFor).Select(canal => canal.Name).ToList() is { Count: > 0 } sought)
        {
            sentences.Add($"{CaseInWords.List(sought)} {(sought.Count == 1 ? "was" : "were")} expected and not found.");
        }

        sentences.AddRange(found.Where(canal => canal.OffCentre is not null).Select(canal => $"The filling of {CaseInWords.Canal(canal.Name)} lay {CaseInWords.Length(canal.OffCentre!.Value)} off the middle of its root."));
        sentences.AddRange(found.Where(canal => canal.Obstacles.Count > 0).Select(canal => $"{CaseInWords.Upper(CaseInWords.Canal(canal.Name))}: {CaseInWords.List(canal.Obstacles.Select(CaseInWords.Obstacle))} in the way."));
        sentences.AddRange(canals.Where(canal => canal is { Meeting: not null, Parent: not null }).Select(Meeting));
        var apical = CaseInWords.Apical(assessment.Apical) is { } diagnosis ? "; " + diagnosis : string.Empty;
        sentences.Add($"Diagnosis: {CaseInWords.Pulpal(assessment.Pulpal)}{apical}.");
        sentences.Add(Previous(assessment.Previous));
        sentences.AddRange(assessment.Roots.Select(Root));
        if (assessment.IsolatedDeepProbing is { } depth)
        {
            sentences.Add($"Isolated probing depth of {CaseInWords.Length(depth)}.");
        }

        if (CaseInWords.Said(assessment.Findings) is { } findings)
        {
            sentences.Add(CaseInWords.Sentence(CaseInWords.Upper(findings)));
        }

        return Joined(sentences);
    }

    private static string Previous(PreviousTreatment previous)
    {
        string?[] parts =
        [
            previous.Filling == OldFilling.Unknown ? null : CaseInWords.Filling(previous.Filling),
            previous.Year is { } year ? FormattableString.Invariant($"{year}") : null,
            CaseInWords.Said(previous.By) is { } by ? $"by {by}" : null,
            CaseInWords.Said(previous.Post) is { } post ? $"post: {post}" : null,
            CaseInWords.Said(previous.Crown) is { } crown ? $"restoration: {crown}" : null,
        ];
        var said = string.Join(", ", parts.OfType<string>());
        return said.Length == 0 ? string.Empty : $"Last treatment: {said}.";
    }

    private static string Root(RootFinding root)
    {
        string?[] parts =
        [
            root.PeriapicalIndex is { } index ? FormattableString.Invariant($"periapical index {index}") : null,
            root.LesionDiameter is { } lesion ? $"lesion {CaseInWords.Length(lesion)}" : null,
            CaseInWords.Said(root.Note),
        ];
        var said = string.Join(", ", parts.OfType<string>());
        return said.Length == 0 ? string.Empty : $"{CaseInWords.Upper(ExpectedCanals.RootInWords(root.Root))}: {said}.";
    }

    private static string Meeting(CanalRecord canal)
    {
        var level = canal.Meeting!.FromEnd is { } fromEnd ? $" {CaseInWords.Length(fromEnd)} from the end" : string.Empty;
        return $"{canal.Name} {(canal.Meeting.Joins ? "joins" : "splits off")} {canal.Parent}{level}{CaseInWords.Plane(canal.Meeting.Plane)}.";
    }

    private static string Done(LetterFacts facts)
    {
        var sentences = new List<string>();
        var finishes = facts.Case.Finishes.OrderBy(finish => finish.Key).Select(finish => finish.Value).ToList();
        if (finishes.Select(finish => CaseInWords.Said(finish.Isolation)).OfType<string>().Distinct().ToList() is { Count: > 0 } isolation)
        {
            sentences.Add($"Isolation: {string.Join("; ", isolation)}.");
        }

        if (facts.Entries.OfType<StepDone>().Select(step => step.Instrument.Trim()).Distinct().ToList() is { Count: > 0 } instruments)
        {
            sentences.Add($"Instruments in order of use: {string.Join("; ", instruments)}.");
        }

        if (finishes.SelectMany(finish => finish.Irrigants).Select(CaseInWords.Irrigant).ToList() is { Count: > 0 } irrigants)
        {
            sentences.Add($"Irrigated with {string.Join("; ", irrigants)}.");
        }

        if (facts.LastFinish is { } last)
        {
            var lot = CaseInWords.Said(last.SealerLot) is { } number ? $" (lot {number})" : string.Empty;
            Add("Sealer:", CaseInWords.Said(last.Sealer) is { } sealer ? sealer + lot : null);
            Add("Dressing:", last.Dressing);
            Add("Orifices sealed with", last.OrificeSeal);
            Add("Core:", last.Core);
            Add("Temporary seal:", last.TemporarySeal);
        }

        return Joined(sentences);

        void Add(string label, string? said)
        {
            if (CaseInWords.Said(said) is { } text)
            {
                sentences.Add($"{label} {CaseInWords.Sentence(text)}");
            }
        }
    }

    private static string Left(LetterFacts facts)
    {
        var sentences = new List<string>();
        if (facts.Films is { } films)
        {
            sentences.AddRange(films.Comparison.Branches.Select(residue => CaseInWords.Sentence(ResidueWords.Headline(residue, films.Request.BeforeScale))));
            if (films.BothAngles is { } together)
            {
                sentences.Add(together);
            }

            sentences.Add(NotSeen(films));
        }

        if (facts.Entries.OfType<SeenByEye>().Select(CaseInWords.Seen).Distinct().ToList() is { Count: > 0 } seen)
        {
            sentences.Add($"By eye: {string.Join("; ", seen)}.");
        }

        return Joined(sentences);
    }

    private static string NotSeen(LetterFilms films)
    {
        var patches = films.Comparison.Branches
            .Where(residue => residue.Refused is null)
            .OrderBy(residue => residue.DetectionLimitSquarePixels)
            .Select(residue => ResidueWords.SmallestPatch(residue, films.Request.BeforeScale))
            .Distinct()
            .ToList();
        var under = patches.Count switch
        {
            0 => string.Empty,
            1 => $"Residue under {patches[0]}",
            _ => $"Residue under {patches[0]} to {patches[^1]}, depending on the canal,",
        };
        return under.Length == 0
            ? "What lies behind something dense can't be seen on films."
            : $"{under} can't be seen on these films, nor what lies behind something dense.";
    }

    private static string NotTreated(LetterFacts facts)
    {
        var alone = facts.Case.Canals.Where(canal => canal.Intent == CanalIntent.LeaveAlone).ToList();
        return alone.Count == 0
            ? string.Empty
            : Joined(alone.GroupBy(canal => canal.Root).Select(root =>
                $"{CaseInWords.Upper(ExpectedCanals.RootInWords(root.Key))}: {CaseInWords.List(root.Select(canal => canal.Name))} left alone (old filling: {string.Join("; ", root.Select(CaseInWords.Before).Distinct())}){(root.Select(canal => canal.WhyLeftAlone).FirstOrDefault(why => why is not null) is { } why ? $": {CaseInWords.Sentence(why)}" : ".")}"));
    }

    private static string Events(LetterFacts facts) => Joined(facts.Entries.OfType<EventHappened>().Select(happened => CaseInWords.Event(happened, facts)));

    private static string Next(LetterFacts facts)
    {
        if (facts.LastFinish is not { } last)
        {
            return string.Empty;
        }

        var sentences = new List<string>();
        if (!last.Finished)
        {
            sentences.Add("The patient comes back to us to complete treatment.");
        }

        if (CaseInWords.Restoration(last) is { } restoration)
        {
            sentences.Add($"The tooth is to be restored{restoration.Replace(ReferringPractice, "by your practice", StringComparison.OrdinalIgnoreCase)}");
        }

        if (last.CallOn is { } call)
        {
            sentences.Add($"We call the patient on {CaseInWords.Date(call)}.");
        }

        return Joined(sentences);
    }

    private static IEnumerable<string> Lines(string? text) =>
        (text ?? string.Empty).Split(['\n', '\r'], StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);

    private static string Joined(IEnumerable<string> sentences) => string.Join(" ", sentences.Where(sentence => sentence.Length > 0));
}
