using Secondpass.Domain.Cases;
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
        Assert.Equal(18050, noted.ExplorationFeeMinorUnits);
        var root = Assert.Single(noted.Roots);
        Assert.Equal(("MB", 4, 3.5), (root.Root, root.PeriapicalIndex, root.LesionDiameter!.Value.Value));
        var again = AssessmentForm.Of(desk.Register.Read(it.Id.Value).Value);
        Assert.Equal(("180.50", "3.5", "2018"), (again.ExplorationFee, again.Roots[0].Lesion, again.Year));
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
