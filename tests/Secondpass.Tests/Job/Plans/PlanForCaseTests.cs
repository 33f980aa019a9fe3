using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Plans;
using Secondpass.Domain.Quantities;
using Secondpass.Job.Instruments;
using Secondpass.Job.Plans;
using Secondpass.Records.Events;
using Secondpass.Tests.Job.Cases;

namespace Secondpass.Tests.Job.Plans;

public sealed class PlanForCaseTests : IDisposable
{
    private static readonly Author Anna = new("Anna", "desk-1");

    private readonly CaseDesk desk = new();
    private readonly PlanForCase planning;

    public PlanForCaseTests() => planning = new PlanForCase(desk.Store, desk.Shelf, new KeepInstruments(desk.Store));

    [Fact]
    public void A_plan_is_made_from_what_the_case_knows_and_chosen_it_belongs_to_it()
    {
        var it = WithCanals(desk.Open());
        var form = PlanForm.Of(it);
        form.Canals[0].NoDeeperThan = "15,5";
        form.Core = "composite core";

        var chosen = planning.Choose(it.Id, form, CaseDesk.Anna).Value;

        var plan = chosen.Plan!;
        Assert.Equal(["Take off the ceramic crown, or go through it where it stays.", "Take out the composite core until the orifices are seen."], plan.Steps.Where(step => step.Phase == RemovalPhase.TakeDown).Select(step => step.Action));
        var six = plan.Steps.Single(step => step.KindCode == "retreatment-30-06" && step.Branch == "MB1");
        Assert.Equal((15.5, "mesiobuccal cusp"), (six.StopFromReference!.Value.Value, six.Reference));
        Assert.DoesNotContain(plan.Steps, step => step.Branch == "DB");
        Assert.Equal(plan.Steps.Select(step => (step.Branch, step.KindCode, step.BindingLimit)), desk.Store.Cases.Read(it.Id).Value.Plan!.Steps.Select(step => (step.Branch, step.KindCode, step.BindingLimit)));
    }

    [Fact]
    public void What_was_set_for_the_plan_in_use_stands_there_again_when_its_page_is_opened_later()
    {
        var it = WithCanals(desk.Open());
        var form = PlanForm.Of(it);
        (form.Canals[0].NoDeeperThan, form.Canals[0].Final, form.Core, form.ResinFollows) = ("15,5", "35/.04", "composite core", true);
        Assert.True(planning.Choose(it.Id, form, CaseDesk.Anna).IsGiven);

        var again = PlanForm.Of(desk.Store.Cases.Read(it.Id).Value);

        Assert.Equal(("15.5", "35/.04", "composite core", true), (again.Canals[0].NoDeeperThan, again.Canals[0].Final, again.Core, again.ResinFollows));
        Assert.All(again.Canals.Skip(1), line => Assert.Equal((null, null), (line.NoDeeperThan, line.Final)));
    }

    [Fact]
    public void Lengths_from_a_reference_point_that_was_lost_give_no_depth_and_that_is_said()
    {
        var it = WithCanals(desk.Open());
        it = desk.Store.Cases.Append(it.Id, it.Version, Anna, [new ReferencePointLost("mesiobuccal cusp", "reduced")]).Value;

        var plan = planning.Show(it, PlanForm.Of(it)).Value;

        Assert.All(plan.Steps, step => Assert.Null(step.StopFromReference));
        Assert.Contains("MB1: lengths read before its reference point was reduced or lost don't count.", plan.Assumptions);
    }

    [Fact]
    public void Walls_typed_from_a_scan_go_into_the_plan()
    {
        var it = WithCanals(desk.Open());
        it = desk.Store.Cases.Append(it.Id, it.Version, Anna, [new ConeBeamRead(new ConeBeamReading([], new Dictionary<string, CanalMeeting>(), new Dictionary<string, double>(), [new WallReading("MB1", new Millimetres(8), "distal", new Millimetres(0.9))], null))]).Value;

        Assert.Contains("MB1: thinnest wall measured on a cone-beam scan: 0.90 mm, distal, at 8.0 mm from the end. Sides that no film or scan shows are not measured.", planning.Show(it, PlanForm.Of(it)).Value.Assumptions);
    }

    [Fact]
    public void A_stop_beyond_the_canal_and_a_size_that_is_none_are_refused_and_quoted()
    {
        var it = WithCanals(desk.Open());
        var form = PlanForm.Of(it);

        form.Canals[0].NoDeeperThan = "25";
        Assert.Equal("The stop at 25 mm lies beyond the end of MB1, which is 20 mm from the mesiobuccal cusp to the radiographic apex.", planning.Show(it, form).Refusal.Reason);
        form.Canals[0].NoDeeperThan = "deep";
        Assert.Equal("The deepest stop in MB1: “deep” is not a number.", planning.Show(it, form).Refusal.Reason);
        form.Canals[0].NoDeeperThan = null;
        form.Canals[0].Final = "35";
        Assert.Equal("The planned final size of MB1: “35” is not a size and taper.", planning.Show(it, form).Refusal.Reason);
        form.Canals[0].Final = "35/.04";
        form.Sequence = "Gone";
        Assert.Equal("“Gone” is not a sequence that is known here.", planning.Show(it, form).Refusal.Reason);
    }

    [Fact]
    public void The_second_of_two_people_who_choose_a_plan_is_told()
    {
        var it = WithCanals(desk.Open());
        var form = PlanForm.Of(it);
        Assert.True(planning.Choose(it.Id, form, CaseDesk.Anna).IsGiven);

        Assert.Equal("case_changed", planning.Choose(it.Id, form, CaseDesk.Ben).Refusal.Code);
    }

    [Fact]
    public void A_case_without_canals_has_nothing_to_plan() =>
        Assert.Equal("nothing_to_remove", planning.Show(desk.Open(), new PlanForm()).Refusal.Code);

    public void Dispose() => desk.Dispose();

    private DentalCase WithCanals(DentalCase it)
    {
        var previous = new PreviousTreatment(2019, OldFilling.GuttaPercha, null, "ceramic crown", null);
        return desk.Store.Cases.Append(it.Id, it.Version, Anna, [new ToothAssessed(Assessment.Start with { Previous = previous }), new CanalsNoted([Canal("MB1", CanalIntent.Retreat), Canal("DB", CanalIntent.LeaveAlone)])]).Value;
    }

    private static CanalRecord Canal(string name, CanalIntent intent) => new(
        name, name, null, null, Found: true, CanalFilling.Filled, new Millimetres(1), null, intent, [], [new LengthReading(new ReferencePoint("mesiobuccal cusp", 1), LengthEnd.RadiographicApex, new Millimetres(20), LengthSource.Film)], FoundLater: false);
}
