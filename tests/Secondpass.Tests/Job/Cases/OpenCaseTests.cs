using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Job.Cases;

namespace Secondpass.Tests.Job.Cases;

public sealed class OpenCaseTests : IDisposable
{
    private readonly CaseDesk desk = new();

    public void Dispose() => desk.Dispose();

    [Fact]
    public void A_number_a_tooth_and_a_reason_open_a_case_and_everything_else_is_not_asked()
    {
        var it = desk.Open();

        Assert.Equal(("4711", "upper right first molar", "Pain on biting"), (it.Patient.Number, it.Tooth.Words, it.Referral.Reason));
        Assert.Empty(it.Health);
        Assert.Null(it.Referral.Referrer);
        Assert.Equal(CaseStep.Assessment, it.NextStep());
    }

    [Fact]
    public void A_step_that_was_passed_over_is_not_proposed_again()
    {
        var it = desk.Open();

        var noted = desk.Canals.Note(it.Id, CanalsForm.Of(it), [], CaseDesk.Anna).Value;

        Assert.False(noted.IsDone(CaseStep.Assessment));
        Assert.Equal(CaseStep.Plan, noted.NextStep());
    }

    [Fact]
    public void Keeps_the_referral_letter_untouched_and_the_answers_before_treatment()
    {
        var form = CaseDesk.Referral();
        form.Health[1].Says = HealthLine.Yes;
        form.Health[1].Detail = " latex ";
        form.Health[2].Says = HealthLine.No;
        byte[] letter = [.. "%PDF-1.7 a letter"u8];

        var it = desk.Opening.Open(form, new SentFile("letter.pdf", letter), CaseDesk.Anna).Value;

        Assert.Equal(new HealthAnswer(true, "latex"), it.Health[HealthQuestion.Allergies]);
        Assert.Equal(new HealthAnswer(false, null), it.Health[HealthQuestion.Anticoagulants]);
        Assert.Equal(2, it.Health.Count);
        var paper = Assert.Single(it.Papers);
        Assert.Equal(("letter.pdf", "application/pdf"), (paper.Name, paper.MediaType));
        Assert.Equal(letter, desk.Store.Cases.ReadFile(paper.Sha256).Value);
    }

    [Theory]
    [InlineData("", "16", "x", "There is no patient number.")]
    [InlineData("1", "", "x", "“” is not a tooth in any notation known here.")]
    [InlineData("1", "99", "x", "“99” is not a tooth in any notation known here.")]
    [InlineData("1", "16", " ", "It is not said why the tooth was sent.")]
    public void Refuses_what_a_case_can_t_be_opened_with(string number, string tooth, string reason, string said)
    {
        var refusal = desk.Opening.Open(new ReferralForm { PatientNumber = number, Tooth = tooth, Reason = reason }, null, CaseDesk.Anna).Refusal;

        Assert.Equal(said, refusal.Reason);
        Assert.Empty(desk.Register.All());
    }

    [Fact]
    public void Refuses_a_yes_without_saying_what()
    {
        var form = CaseDesk.Referral();
        form.Health[4].Says = HealthLine.Yes;

        Assert.Equal("Pacemaker or another implanted device: the answer is yes, and it is not said what.", desk.Opening.Open(form, null, CaseDesk.Anna).Refusal.Reason);
    }

    [Fact]
    public void A_tooth_in_another_notation_is_echoed_in_words_and_taken_when_it_is_sent_again()
    {
        var form = CaseDesk.Referral("3");

        var question = desk.Opening.Open(form, null, CaseDesk.Anna).Refusal;
        Assert.Equal("“3” is no tooth in ISO 3950; in Universal 1–32 it is the upper right first molar, 16.", question.Reason);
        Assert.Equal("If you mean the upper right first molar, send it again; otherwise correct the tooth.", question.Remedy);
        Assert.Empty(desk.Register.All());

        Assert.Equal("16", desk.Opening.Open(form, null, CaseDesk.Anna).Value.Tooth.ToString());
    }

    [Fact]
    public void What_was_confirmed_for_one_tooth_is_not_confirmed_for_another()
    {
        var form = CaseDesk.Referral("3");
        Assert.Equal("other_notation", desk.Opening.Open(form, null, CaseDesk.Anna).Refusal.Code);
        form.Tooth = "4";

        Assert.Equal("“4” is no tooth in ISO 3950; in Universal 1–32 it is the upper right second premolar, 15.", desk.Opening.Open(form, null, CaseDesk.Anna).Refusal.Reason);
    }

    [Fact]
    public void Sixteen_is_the_upper_left_third_molar_where_the_clinic_writes_universal_numbers()
    {
        Assert.True(desk.Habits.Choose(ToothNotation.Universal, CaseDesk.Anna).IsGiven);

        Assert.Equal("28", desk.Open("16").Tooth.ToString());
    }

    [Fact]
    public void Asks_back_when_the_number_belongs_to_another_name_or_the_tooth_has_a_case()
    {
        var first = CaseDesk.Referral();
        first.PatientName = "Ada Invented";
        Assert.True(desk.Opening.Open(first, null, CaseDesk.Anna).IsGiven);
        var second = CaseDesk.Referral();
        second.PatientName = "Bea Invented";

        Assert.Equal("Patient 4711 is called “Ada Invented” in another case; here it is “Bea Invented”.", desk.Opening.Open(second, null, CaseDesk.Ben).Refusal.Reason);
        Assert.Equal("There is a case of patient 4711 for the upper right first molar already, opened on 4 March 2026.", desk.Opening.Open(second, null, CaseDesk.Ben).Refusal.Reason);
        Assert.True(desk.Opening.Open(second, null, CaseDesk.Ben).IsGiven);
    }

    [Fact]
    public void Two_people_at_once_lose_nothing_the_second_is_told_who_and_when()
    {
        var opened = desk.Open();
        var annas = ReferralForm.Of(opened);
        var bens = ReferralForm.Of(opened);
        annas.Reason = "Lesion on the mesiobuccal root";
        bens.Question = "Can it be kept?";
        Assert.True(desk.Opening.Change(opened.Id, annas, null, CaseDesk.Anna).IsGiven);

        var refusal = desk.Opening.Change(opened.Id, bens, null, CaseDesk.Ben).Refusal;

        Assert.Equal("case_changed", refusal.Code);
        Assert.StartsWith("Anna changed this case meanwhile, on 2026-03-04 at 10:30", refusal.Reason, StringComparison.Ordinal);
        Assert.Equal("Can it be kept?", bens.Question);
        Assert.IsType<ReferralChanged>(Assert.Single(desk.Register.Since(opened.Id.Value, opened.Version).Value).Event);
    }

    [Fact]
    public void Only_what_changed_is_noted()
    {
        var opened = desk.Open();

        Assert.Equal(opened.Version, desk.Opening.Change(opened.Id, ReferralForm.Of(opened), null, CaseDesk.Anna).Value.Version);
    }

    [Fact]
    public void A_letter_is_known_by_its_bytes_and_not_by_its_name()
    {
        var refusal = desk.Papers.Receive(new SentFile("letter.pdf", "MZ program"u8.ToArray())).Refusal;

        Assert.Equal("“letter.pdf” is not a PDF, a PNG or a JPEG, whatever its name says.", refusal.Reason);
        Assert.Equal("Save it as a PDF, a PNG or a JPEG and choose it again.", refusal.Remedy);
        Assert.False(desk.Papers.ReceivePhotograph(new SentFile("photo.jpg", "%PDF-1.7"u8.ToArray())).IsGiven);
    }

    [Fact]
    public void Another_case_s_file_is_not_given_out()
    {
        var form = CaseDesk.Referral();
        var mine = desk.Opening.Open(form, new SentFile("a.pdf", "%PDF-1.7"u8.ToArray()), CaseDesk.Anna).Value;
        var other = desk.Open("26");
        var files = new CaseFiles(desk.Store);

        Assert.Equal("application/pdf", files.Read(mine.Id.Value, mine.Papers[0].Sha256).Value.MediaType);
        Assert.Equal("file_not_here", files.Read(other.Id.Value, mine.Papers[0].Sha256).Refusal.Code);
    }

    [Fact]
    public void The_tooth_is_said_in_words_while_it_is_typed()
    {
        var names = new NameTooth(desk.Habits);

        Assert.Equal("upper right first molar; not the upper left third molar in Universal 1–32", names.Of("16").Value.Words);
        Assert.True(names.Of("UR6").Value.OtherNotation);
    }
}
