using Secondpass.App.Pages.Cases;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Chairside;
using Secondpass.Domain.Plans;
using Secondpass.Job.Cases;
using Secondpass.Records.Events;

namespace Secondpass.Tests.Job.Cases;

public sealed class CorrectCaseTests : IDisposable
{
    private static readonly Author By = new("Anna", "desk-1");

    private readonly CaseDesk desk = new();

    public void Dispose() => desk.Dispose();

    [Fact]
    public void A_wrong_number_and_name_are_corrected_and_what_stood_there_stays_in_the_history()
    {
        var it = desk.Open();

        var corrected = desk.Correcting.Correct(it.Id, Form(it, form => (form.PatientNumber, form.PatientName) = ("4117", "Ada Invented")), CaseDesk.Anna).Value;

        Assert.Equal(new Patient("4117", "Ada Invented"), corrected.Patient);
        Assert.Equal(corrected.Patient, desk.Store.Cases.Read(it.Id).Value.Patient);
        Assert.Equal("4117", Assert.Single(desk.Register.All()).Patient.Number);
        Assert.Equal(
            ["case opened for patient 4711, upper right first molar", "patient corrected: 4117, Ada Invented, not 4711 (digits swapped)"],
            desk.Register.Since(it.Id.Value, 0).Value.Select(Words));
    }

    [Fact]
    public void A_wrong_tooth_is_corrected_after_a_question_back_when_nothing_depends_on_it()
    {
        var it = desk.Open();
        var form = Form(it, form => form.Tooth = "17");

        var question = desk.Correcting.Correct(it.Id, form, CaseDesk.Anna).Refusal;
        Assert.Equal("The tooth becomes the upper right second molar, 17, instead of the upper right first molar, 16.", question.Reason);
        Assert.Equal("If the case is about the upper right second molar, send it again; otherwise correct the tooth.", question.Remedy);
        Assert.Equal("16", desk.Store.Cases.Read(it.Id).Value.Tooth.ToString());

        Assert.Equal("17", desk.Correcting.Correct(it.Id, form, CaseDesk.Anna).Value.Tooth.ToString());
        Assert.Equal("17", Assert.Single(desk.Register.All()).Tooth.ToString());
        Assert.Equal(
            "tooth corrected: upper right second molar (17), not upper right first molar (16); digits swapped",
            Words(desk.Register.Since(it.Id.Value, it.Version).Value.Single()));
    }

    [Fact]
    public void With_another_tooth_the_plan_is_dropped_and_the_canals_are_flagged_until_they_are_looked_through()
    {
        var it = desk.Open();
        var canal = new CanalRecord("MB1", "MB", null, null, Found: true, CanalFilling.Filled, null, null, CanalIntent.Retreat, [], [], FoundLater: false);
        it = desk.Store.Cases.Append(it.Id, it.Version, By, [
            new CanalsNoted([canal]),
            new FilmAttached(new CaseFilm(new string('a', 64), FilmMoment.Before, TubeShift.Straight, null)),
            new PlanChosen(new RemovalPlan("ours", [], [], []), PlanSettings.None)]).Value;
        var form = Form(it, form => form.Tooth = "17");

        Assert.Equal(
            "The tooth becomes the upper right second molar, 17, instead of the upper right first molar, 16. Noted for that one: canals MB1; 1 film; the plan in use. The plan is dropped, the rest stays and must be looked through: films of the other tooth don't belong here.",
            desk.Correcting.Correct(it.Id, form, CaseDesk.Anna).Refusal.Reason);
        var corrected = desk.Correcting.Correct(it.Id, form, CaseDesk.Anna).Value;

        Assert.Null(corrected.Plan);
        Assert.True(corrected.HasCanalsOfAnotherTooth);
        Assert.EndsWith("; digits swapped; the plan in use was dropped", Words(desk.Register.Since(it.Id.Value, it.Version).Value.Single()), StringComparison.Ordinal);
        Assert.False(desk.Store.Cases.Append(it.Id, corrected.Version, By, [new CanalsNoted([canal])]).Value.HasCanalsOfAnotherTooth);
    }

    [Fact]
    public void A_tooth_that_was_treated_already_is_not_made_another_one()
    {
        var it = desk.Open();
        desk.Store.Cases.AppendEntry(it.Id, new EntryKey("chair", 1), By, new MomentMarked(1, desk.Clock.Now, ChairsideMark.RemovalStart, null));

        var refusal = desk.Correcting.Correct(it.Id, Form(it, form => form.Tooth = "17"), CaseDesk.Anna).Refusal;

        Assert.Equal("Treatment of the upper right first molar is noted in this case, or a letter about it was made: a record of treatment is not moved to another tooth.", refusal.Reason);
        Assert.Equal("Open a new case for the other tooth and enter there what holds; then write into the reason for referral here what was wrong. Letters that went out must be put right by another letter.", refusal.Remedy);
        Assert.True(desk.Correcting.Correct(it.Id, Form(it, form => form.PatientName = "Ada Invented"), CaseDesk.Anna).IsGiven);
    }

    [Fact]
    public void Nothing_is_corrected_without_a_reason_and_nothing_is_noted_when_nothing_changed()
    {
        var it = desk.Open();

        Assert.Equal("It is not said why it was wrong.", desk.Correcting.Correct(it.Id, Form(it, form => (form.PatientNumber, form.Reason) = ("4117", " ")), CaseDesk.Anna).Refusal.Reason);
        Assert.Equal(it.Version, desk.Correcting.Correct(it.Id, Form(it, _ => { }), CaseDesk.Anna).Value.Version);
    }

    [Fact]
    public void Asks_back_when_the_right_number_belongs_to_somebody_of_another_name()
    {
        var other = CaseDesk.Referral("26", "4117");
        other.PatientName = "Bea Invented";
        Assert.True(desk.Opening.Open(other, null, CaseDesk.Anna).IsGiven);
        var it = desk.Open();
        var form = Form(it, form => (form.PatientNumber, form.PatientName) = ("4117", "Ada Invented"));

        Assert.Equal("Patient 4117 is called “Bea Invented” in another case; here it is “Ada Invented”.", desk.Correcting.Correct(it.Id, form, CaseDesk.Anna).Refusal.Reason);
        Assert.True(desk.Correcting.Correct(it.Id, form, CaseDesk.Anna).IsGiven);
    }

    [Fact]
    public void A_case_of_a_patient_who_has_others_is_not_taken_away_from_them()
    {
        var it = desk.Open();
        desk.Open("26");

        var refusal = desk.Correcting.Correct(it.Id, Form(it, form => form.PatientNumber = "4117"), CaseDesk.Anna).Refusal;

        Assert.Equal("Patient 4711 has 1 other case here. What is noted of a patient is locked under one key, so this case can't be moved to patient 4117 alone.", refusal.Reason);
        Assert.Equal("Open a new case for patient 4117 and enter there what holds; then write into the reason for referral here that this case was opened for the wrong patient.", refusal.Remedy);
        Assert.Equal("4711", desk.Store.Cases.Read(it.Id).Value.Patient.Number);
    }

    [Fact]
    public void A_changed_referrer_shows_who_it_was_before()
    {
        var it = desk.Open();
        var form = ReferralForm.Of(it);
        form.Referrer = "Dr Invented";
        Assert.True(desk.Opening.Change(it.Id, form, null, CaseDesk.Anna).IsGiven);

        Assert.Equal("referral entered anew; sent by: Dr Invented, not nobody", Words(desk.Register.Since(it.Id.Value, it.Version).Value.Single()));
    }

    private static string Words(CaseNote note) => CaseNoteWords.Of(note, TimeProvider.System);

    private static CaseCorrectionForm Form(DentalCase it, Action<CaseCorrectionForm> change)
    {
        var form = CaseCorrectionForm.Of(it, ToothNotation.Iso3950);
        form.Reason = "digits swapped";
        change(form);
        return form;
    }
}
