using Secondpass.Domain.Cases;
using Secondpass.Domain.Quantities;
using Secondpass.Job.Cases;

namespace Secondpass.Tests.Job.Cases;

public sealed class AssessToothTests : IDisposable
{
    private readonly CaseDesk desk = new();

    public void Dispose() => desk.Dispose();

    [Fact]
    public void Begins_with_previously_treated_and_nothing_else_said()
    {
        var form = AssessmentForm.Of(desk.Open());

        Assert.Equal(PulpalDiagnosis.PreviouslyTreated, form.Pulpal);
        Assert.Equal((ApicalDiagnosis.NotYet, Restorability.NotYet, Restorability.NotYet), (form.Apical, form.Before, form.AfterTakeDown));
        Assert.Equal(["MB", "DB", "P"], form.Roots.Select(root => root.Root));
    }

    [Fact]
    public void What_was_typed_stands_in_the_case_and_in_the_form_again()
    {
        var it = desk.Open();
        var form = AssessmentForm.Of(it);
        form.Apical = ApicalDiagnosis.ChronicAbscess;
        form.Year = "2018";
        form.OldFilling = OldFilling.SilverPoint;
        form.Before = Restorability.Doubtful;
        form.ExplorationAgreed = true;
        form.ExplorationFee = "180,50";
        form.Roots[0].PeriapicalIndex = "4";
        form.Roots[0].Lesion = "3,5";

        var noted = desk.Assessing.Assess(it.Id, form, CaseDesk.Anna).Value.Assessment;

        Assert.Equal((2018, OldFilling.SilverPoint), (noted.Previous.Year, noted.Previous.Filling));
        Assert.Equal(new Money(18050, null), noted.ExplorationFee);
        var root = Assert.Single(noted.Roots);
        Assert.Equal(("MB", 4, 3.5), (root.Root, root.PeriapicalIndex, root.LesionDiameter!.Value.Value));
        var again = AssessmentForm.Of(desk.Register.Read(it.Id.Value).Value);
        Assert.Equal(("180.50", "3.5", "2018"), (again.ExplorationFee, again.Roots[0].Lesion, again.Year));
    }

    [Theory]
    [InlineData("EUR", "120,50", "EUR 120.50")]
    [InlineData("EUR", "120.50", "EUR 120.50")]
    [InlineData("JPY", "18000", "JPY 18000")]
    [InlineData("KWD", "36.125", "KWD 36.125")]
    [InlineData(null, "120,5", "120.50 (no currency noted)")]
    public void A_fee_is_in_the_clinics_currency_and_stands_in_what_the_patient_agrees_to(string? currency, string typed, string told)
    {
        Assert.True(desk.Habits.ChooseCurrency(currency, CaseDesk.Anna).IsGiven);
        var it = desk.Open();
        var form = AssessmentForm.Of(it);
        (form.ExplorationAgreed, form.ExplorationFee) = (true, typed);

        it = desk.Assessing.Assess(it.Id, form, CaseDesk.Anna).Value;

        Assert.Equal(told, it.Assessment.ExplorationFee!.InWords);
        Assert.Equal(
            [$"Should the tooth turn out not to be restorable, treatment ends with the exploration. Its fee is {told}."],
            Consent.Of(it));
    }

    [Fact]
    public void Exploration_without_a_fee_is_agreed_to_as_such()
    {
        var it = desk.Open();
        var form = AssessmentForm.Of(it);
        (form.ExplorationAgreed, form.ExplorationFee) = (true, "0");

        Assert.EndsWith("There is no fee for it.", Consent.Of(desk.Assessing.Assess(it.Id, form, CaseDesk.Anna).Value).Single(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_fee_keeps_the_currency_that_it_was_noted_in_until_it_is_said_to_be_in_another()
    {
        desk.Habits.ChooseCurrency("USD", CaseDesk.Anna);
        var it = desk.Open();
        Assess(form => form.ExplorationFee = "120.50");
        desk.Habits.ChooseCurrency("JPY", CaseDesk.Anna);

        // Saved again for another reason, and corrected, it stays in dollars.
        Assess(form => form.Findings = "percussion");
        Assert.Equal(new Money(12050, "USD"), it.Assessment.ExplorationFee);
        Assess(form => form.ExplorationFee = "110");
        Assert.Equal(new Money(11000, "USD"), it.Assessment.ExplorationFee);

        var wrong = AssessmentForm.Of(it);
        wrong.FeeIsInClinicCurrency = true;
        var refusal = desk.Assessing.Assess(it.Id, wrong, CaseDesk.Anna).Refusal;
        Assert.Equal(
            ("The fee for exploration only: “110.00” has more decimals than JPY has.", "Enter whole JPY, with nothing between the thousands, such as 12000."),
            (refusal.Reason, refusal.Remedy));

        Assess(form => (form.ExplorationFee, form.FeeIsInClinicCurrency) = ("18000", true));
        Assert.Equal(new Money(18000, "JPY"), it.Assessment.ExplorationFee);

        void Assess(Action<AssessmentForm> change)
        {
            var form = AssessmentForm.Of(it);
            change(form);
            it = desk.Assessing.Assess(it.Id, form, CaseDesk.Anna).Value;
        }
    }

    [Fact]
    public void An_isolated_deep_pocket_stops_until_a_fracture_was_thought_of()
    {
        var it = desk.Open();
        var form = AssessmentForm.Of(it);
        form.DeepProbing = "9";

        var refusal = desk.Assessing.Assess(it.Id, form, CaseDesk.Anna).Refusal;
        Assert.Equal("An isolated pocket of 9 mm may mean that the root is fractured.", refusal.Reason);
        Assert.StartsWith("Think again before treating:", refusal.Remedy, StringComparison.Ordinal);

        form.ThoughtOfFracture = true;
        var noted = desk.Assessing.Assess(it.Id, form, CaseDesk.Anna).Value.Assessment;
        Assert.Equal((9, true), (noted.IsolatedDeepProbing!.Value.Value, noted.Probed));
    }

    [Theory]
    [InlineData("Year", "3018", "The year of the last treatment: 3018 can't be.")]
    [InlineData("Year", "2018.5", "The year of the last treatment: “2018.5” is not a year.")]
    [InlineData("Year", "long ago", "The year of the last treatment: “long ago” is not a number.")]
    [InlineData("DeepProbing", "90", "The isolated deep pocket: 90 mm can't be.")]
    [InlineData("ExplorationFee", "-5", "The fee for exploration only: -5 can't be.")]
    [InlineData("ExplorationFee", "120.505", "The fee for exploration only: “120.505” has more decimals than an amount has.")]
    [InlineData("ExplorationFee", "a lot", "The fee for exploration only: “a lot” is not a number.")]
    [InlineData("ExplorationAgreed", "", "The patient agreed to exploration only, and no fee for it is entered.")]
    [InlineData("Lesion", "400", "Lesion, mesiobuccal root: 400 mm can't be.")]
    [InlineData("PeriapicalIndex", "7", "Periapical index, mesiobuccal root: 7 can't be.")]
    [InlineData("PeriapicalIndex", "2.5", "Periapical index, mesiobuccal root: “2.5” is not a whole number.")]
    public void Refuses_what_can_t_be_and_quotes_it(string field, string typed, string reason)
    {
        var it = desk.Open();
        var form = AssessmentForm.Of(it);
        var owner = typeof(AssessmentForm).GetProperty(field) is null ? (object)form.Roots[0] : form;
        owner.GetType().GetProperty(field)!.SetValue(owner, field == "ExplorationAgreed" ? true : typed);

        Assert.Equal(reason, desk.Assessing.Assess(it.Id, form, CaseDesk.Anna).Refusal.Reason);
        Assert.Equal(it.Version, desk.Register.Read(it.Id.Value).Value.Version);
    }
}
