using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Chairside;
using Secondpass.Exchange.Letters;

namespace Secondpass.Tests.Exchange.Letters;

public sealed class DraftTests
{
    [Fact]
    public void The_reason_for_a_root_left_alone_stands_in_both_letters_and_is_no_gap()
    {
        var told = InventedLetter.Facts(InventedLetter.Finished);
        var canals = told.Case.Canals.Select(canal => canal.Intent == CanalIntent.LeaveAlone ? canal with { WhyLeftAlone = "filling sound, no lesion" } : canal);
        var facts = told with { Case = told.Case.With(new CanalsNoted([.. canals])) };

        Assert.Equal("Palatal root: P left alone (old filling: adequate, 1.2 mm short): filling sound, no lesion.", Text(ReplyDraft.Of(facts), "Not treated"));
        Assert.Contains("One other canal was left as it was (reason: filling sound, no lesion).", Text(PatientDraft.Of(facts), "What we did"), StringComparison.Ordinal);
        Assert.DoesNotContain("Canals were left alone: say why, where the letter doesn't.", LetterGaps.Of(facts));
    }

    [Fact]
    public void The_first_paragraph_answers_how_long_it_took()
    {
        var opening = ReplyDraft.Of(InventedLetter.Facts(InventedLetter.Finished)).Paragraphs[0];

        Assert.Equal(string.Empty, opening.Topic);
        Assert.Equal(
            "Thank you for sending this patient to us. The reason given was: pain on biting since January. Treatment was completed on 4 March 2026, in one visit. Removing the old filling took 11 min, hands-on throughout.",
            opening.Text);
    }

    [Fact]
    public void Canals_that_were_missed_and_canals_left_alone_are_named()
    {
        var draft = ReplyDraft.Of(InventedLetter.Facts(InventedLetter.Finished));

        Assert.Contains("MB2 held no filling: missed by the last treatment. MB2 was found during treatment.", Text(draft, "Found"), StringComparison.Ordinal);
        Assert.Equal("Palatal root: P left alone (old filling: adequate, 1.2 mm short).", Text(draft, "Not treated"));
    }

    [Fact]
    public void A_tooth_with_one_canal_is_spoken_of_as_such()
    {
        var canal = InventedLetter.Canals[0] with { Name = ExpectedCanals.OnlyCanal, Root = ExpectedCanals.Only };

        Assert.StartsWith("One canal was found. The filling of the canal lay 0.4 mm off the middle of its root.", Found(canal), StringComparison.Ordinal);
        Assert.StartsWith("One canal was found, the palatal canal.", Found(canal with { Name = "P" }), StringComparison.Ordinal);

        static string Found(CanalRecord canal) => Text(ReplyDraft.Of(InventedLetter.Facts(InventedLetter.Case(new CanalsNoted([canal])))), "Found");
    }

    [Theory]
    [InlineData("the referring practice", "The tooth is to be restored by your practice, no later than 1 April 2026.", "Please have the lasting filling or crown made by the referring practice, no later than 1 April 2026.")]
    [InlineData("Dr B. Sample, with a crown", "The tooth is to be restored by Dr B. Sample, with a crown, no later than 1 April 2026.", "Please have the lasting filling or crown made by Dr B. Sample, with a crown, no later than 1 April 2026.")]
    [InlineData(null, "The tooth is to be restored no later than 1 April 2026.", "Please have the lasting filling or crown made no later than 1 April 2026.")]
    public void Who_restores_the_tooth_by_when_is_one_sentence(string? who, string toColleague, string toPatient)
    {
        var facts = InventedLetter.Facts(InventedLetter.Finished.With(new FinishNoted(1, InventedLetter.Finish with { RestorationBy = who })));

        Assert.StartsWith(toColleague, Text(ReplyDraft.Of(facts), "Next"), StringComparison.Ordinal);
        Assert.StartsWith(toPatient, Text(PatientDraft.Of(facts), "What comes next"), StringComparison.Ordinal);
    }

    [Fact]
    public void What_the_films_can_not_show_stands_beside_what_they_show()
    {
        var facts = InventedLetter.Facts(InventedLetter.Finished);
        var differing = facts.Films!.Comparison with { Branches = [.. facts.Films.Comparison.Branches.Select((residue, index) => residue with { DetectionLimitSquarePixels = 100 * (index + 1) })] };

        Assert.Contains("Residue under 0.12 mm² can't be seen on these films, nor what lies behind something dense.", Text(ReplyDraft.Of(facts), "Left"), StringComparison.Ordinal);
        Assert.Contains(
            "Residue under 0.09 mm² to 0.18 mm², depending on the canal, can't be seen on these films",
            Text(ReplyDraft.Of(facts with { Films = facts.Films with { Comparison = differing } }), "Left"),
            StringComparison.Ordinal);
    }

    [Fact]
    public void A_case_that_was_only_opened_gives_a_letter_that_makes_nothing_up()
    {
        var draft = ReplyDraft.Of(InventedLetter.Facts(InventedLetter.Case(), withFilms: false));

        Assert.Equal(["", "Found"], draft.Paragraphs.Select(paragraph => paragraph.Topic));
        Assert.EndsWith("Treatment has not begun yet.", draft.Paragraphs[0].Text, StringComparison.Ordinal);
        Assert.Equal("Diagnosis: previously treated.", draft.Paragraphs[1].Text);
        Assert.Equal(["", "Please call us"], PatientDraft.Of(InventedLetter.Facts(InventedLetter.Case(), withFilms: false)).Paragraphs.Select(paragraph => paragraph.Topic));
    }

    [Fact]
    public void A_correction_at_the_chair_changes_the_letter()
    {
        var number = 1 + InventedLetter.Visit.ToList().FindIndex(entry => entry is EventHappened);
        var corrected = InventedLetter.Case(
            [new CanalsNoted(InventedLetter.Canals), .. InventedLetter.Visit, new EntryCorrected(1, InventedLetter.Visit[^1].At, number, "it was a hair of the brush", null)]);

        Assert.DoesNotContain(ReplyDraft.Of(InventedLetter.Facts(corrected)).Paragraphs, paragraph => paragraph.Topic == "Events");
    }

    [Fact]
    public void Nobody_is_addressed_by_a_name_that_is_not_known()
    {
        var unnamed = DentalCase.From(new CaseId("0"), [InventedLetter.Opened with { Patient = new Patient("7", " "), Referral = InventedLetter.Opened.Referral with { Referrer = null, Practice = null } }]);
        var facts = InventedLetter.Facts(unnamed, withFilms: false);

        Assert.Equal("Dear colleague,", ReplyDraft.Of(facts).Salutation);
        Assert.Empty(ReplyDraft.Of(facts).Recipient);
        Assert.Equal("patient number 7: upper right first molar (tooth 16), root-canal re-treatment", ReplyDraft.Of(facts).Subject);
        Assert.Equal("Dear patient,", PatientDraft.Of(facts).Salutation);
    }

    [Fact]
    public void What_a_colleague_will_miss_is_said_before_the_letter_is_made()
    {
        var happened = new EventHappened(1, InventedLetter.Visit[0].At, "P", ProceduralEvent.Ledge, null, null, null, null, null);
        var facts = InventedLetter.Facts(
            InventedLetter.Case(
                new CanalsNoted(InventedLetter.Canals),
                InventedLetter.At(0, ChairsideMark.RemovalStart),
                happened,
                new FinishNoted(1, InventedLetter.Finish with { Canals = [], RestorationUntil = null })),
            withFilms: false);

        Assert.Equal(
            [
                "Minutes of visit 1: “removal complete” is not marked.",
                "In P, a ledge was met. It is not noted who was told.",
                "Canals were left alone: say why, where the letter doesn't.",
                "MB1 has no working length in the finish note.",
                "MB2 has no working length in the finish note.",
                "DB has no working length in the finish note.",
                "It is not said by when the tooth is to be restored.",
            ],
            LetterGaps.Of(facts));
    }

    private static string Text(LetterDraft draft, string topic) => draft.Paragraphs.Single(paragraph => paragraph.Topic == topic).Text;
}
