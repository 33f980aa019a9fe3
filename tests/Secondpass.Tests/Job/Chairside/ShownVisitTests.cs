using Secondpass.Domain.Cases;
using Secondpass.Domain.Chairside;
using Secondpass.Domain.Plans;
using Secondpass.Domain.Quantities;
using Secondpass.Job.Chairside;
using Secondpass.Tests.Exchange.Letters;

namespace Secondpass.Tests.Job.Chairside;

public sealed class ShownVisitTests
{
    [Fact]
    public void There_is_always_one_next_mark_from_the_chair_to_the_door()
    {
        var events = new List<CaseEvent> { new CanalsNoted([InventedLetter.Canals[0], InventedLetter.Canals[1]]) };
        var said = new List<string>();
        string? inHand = null;
        for (var minute = 0; minute < 20; minute++)
        {
            var shown = ShownVisit.Of(InventedLetter.Case([.. events]), inHand, 1);
            inHand = shown.NextCanal ?? shown.Canal;
            if (shown.NextCanal is { } canal)
            {
                said.Add("go " + canal);
                events.Add(InventedLetter.At(minute, ChairsideMark.RemovalStart, canal));
            }
            else if (shown.Next is { } next)
            {
                said.Add($"{next} {(ShownVisit.IsOfCanal(next) ? shown.Canal : string.Empty)}".TrimEnd());
                events.Add(InventedLetter.At(minute, next, ShownVisit.IsOfCanal(next) ? shown.Canal : null));
            }
            else
            {
                Assert.True(shown.IsOver);
                break;
            }
        }

        Assert.Equal(
            [
                "Seated", "Access", "RemovalStart MB1", "LengthReached MB1", "RemovalComplete MB1",
                "go MB2", "LengthReached MB2", "RemovalComplete MB2", "ShapingEnd", "Left",
            ],
            said);
    }

    [Fact]
    public void A_computed_stop_is_told_to_a_tenth_and_a_reading_as_it_was_read() =>
        Assert.Equal(("11.5 mm", "18.75 mm"), (ShownVisit.Stop(new Millimetres(11.5352)), ShownVisit.Length(new Millimetres(18.75))));

    [Fact]
    public void Canals_that_are_left_alone_are_not_offered() =>
        Assert.Equal(["MB1", "MB2", "DB"], ShownVisit.Of(InventedLetter.Case(new CanalsNoted(InventedLetter.Canals)), null, 1).Canals.Select(canal => canal.Name));

    [Fact]
    public void The_plan_s_next_step_of_the_canal_in_hand_is_shown_until_it_was_done()
    {
        var plan = new RemovalPlan("own", [Step(RemovalPhase.TakeDown, null, null), Step(RemovalPhase.Bulk, "ultrasonic file 25", "MB1"), Step(RemovalPhase.Bulk, "retreatment rotary 30/.06", "MB1"), Step(RemovalPhase.Bulk, "ultrasonic file 25", "DB")], [], []);
        CaseEvent[] before = [new CanalsNoted(InventedLetter.Canals), new PlanChosen(plan, PlanSettings.None)];
        CaseEvent[] after = [.. before, InventedLetter.At(1, ChairsideMark.RemovalStart, "MB1"), InventedLetter.Visit.OfType<StepDone>().First() with { Canal = "MB1" }];

        Assert.Equal(("ultrasonic file 25", 1, 2), Shown(before));
        Assert.Equal(("retreatment rotary 30/.06", 2, 2), Shown(after));
        Assert.Single(ShownVisit.Of(InventedLetter.Case(before), "MB1", 1).TakeDown);
        Assert.Empty(ShownVisit.Of(InventedLetter.Case(after), "MB1", 1).TakeDown);

        static (string?, int, int) Shown(CaseEvent[] events) => ShownVisit.Of(InventedLetter.Case(events), "MB1", 1).Step is { } step ? (step.Step.Instrument, step.Ordinal, step.Count) : default;
    }

    [Fact]
    public void A_step_of_the_plan_that_was_passed_over_is_not_asked_for_again()
    {
        var plan = new RemovalPlan("own", [Step(RemovalPhase.Bulk, "heated plugger", "MB1"), Step(RemovalPhase.Bulk, "ultrasonic file 25", "MB1"), Step(RemovalPhase.Bulk, "retreatment rotary 30/.06", "MB1")], [], []);
        CaseEvent[] events = [new CanalsNoted(InventedLetter.Canals), new PlanChosen(plan, PlanSettings.None), InventedLetter.Visit.OfType<StepDone>().First() with { Canal = "MB1" }];

        var step = ShownVisit.Of(InventedLetter.Case(events), "MB1", 1).Step!;

        Assert.Equal(("retreatment rotary 30/.06", 3), (step.Step.Instrument, step.Ordinal));
    }

    [Fact]
    public void Steps_of_taking_the_tooth_apart_are_ticked_off_and_a_post_in_one_canal_is_one_of_them()
    {
        var crown = Step(RemovalPhase.TakeDown, null, null) with { Action = "Take off the crown." };
        var post = Step(RemovalPhase.TakeDown, null, "MB1") with { Action = "Take out the post." };
        CaseEvent[] before = [new CanalsNoted(InventedLetter.Canals), new PlanChosen(new RemovalPlan("own", [crown, post, Step(RemovalPhase.Bulk, "ultrasonic file 25", "MB1")], [], []), PlanSettings.None)];

        Assert.Equal([("Take off the crown.", false), ("Take out the post.", false)], Ticks());
        Assert.Equal([("Take off the crown.", true), ("Take out the post.", false)], Ticks(Taken("Take off the crown.")));
        Assert.Equal(
            [("Take off the crown.", false), ("Take out the post.", false)],
            Ticks(Taken("Take off the crown."), new EntryCorrected(1, InventedLetter.Visit[0].At, 1, "not yet", null)));
        Assert.Equal((1, 1), (ShownVisit.Of(InventedLetter.Case(before), "MB1", 1).Step!.Ordinal, ShownVisit.Of(InventedLetter.Case(before), "MB1", 1).Step!.Count));
        Assert.Equal("Done: Take off the crown.", Assert.Single(ShownVisit.Of(InventedLetter.Case([.. before, Taken("Take off the crown.")]), null, 1).Entries).Words);

        IEnumerable<(string, bool)> Ticks(params CaseEvent[] after) => ShownVisit.Of(InventedLetter.Case([.. before, .. after]), null, 1).TakeDown.Select(one => (one.Step.Action, one.IsDone));

        static TakenDown Taken(string what) => new(1, InventedLetter.Visit[0].At, what);
    }

    [Theory]
    [InlineData(0, "In the chair", 0)]
    [InlineData(1, "Access", 8)]
    [InlineData(3, "Access", 8)]
    [InlineData(4, "Removal", 26)]
    [InlineData(9, "Shaping", 29)]
    [InlineData(10, "Removal", 26)]
    [InlineData(14, "Shaping", 37)]
    [InlineData(17, "Since shaping", 67)]
    public void The_clock_counts_the_phase_that_is_open(int lastEntry, string label, double sinceMinute)
    {
        var shown = ShownVisit.Of(InventedLetter.Case([new CanalsNoted(InventedLetter.Canals), .. InventedLetter.Visit.Take(lastEntry + 1)]), null, 1);

        Assert.Equal(new ShownClock(label, InventedLetter.Visit[0].At.AddMinutes(sinceMinute)), shown.Clock);
    }

    [Fact]
    public void Hands_off_stays_to_be_seen_until_hands_are_on_again()
    {
        Assert.True(ShownVisit.Of(InventedLetter.Case([.. InventedLetter.Visit.Take(3)]), null, 1).HandsAreOff);
        Assert.False(ShownVisit.Of(InventedLetter.Case([.. InventedLetter.Visit.Take(4)]), null, 1).HandsAreOff);
    }

    [Fact]
    public void The_record_shows_what_holds_what_does_not_and_why()
    {
        var shown = ShownVisit.Of(InventedLetter.Case([.. InventedLetter.Visit.Take(2), new EntryCorrected(1, InventedLetter.Visit[1].At, 1, "not yet", null)]), null, 1);

        Assert.Equal([(2, "Access begins", true, null), (1, "Patient seated", false, "Doesn't hold: not yet")], shown.Entries.Select(entry => (entry.Number, entry.Words, entry.Holds, entry.Corrected)));
    }

    private static RemovalStep Step(RemovalPhase phase, string? instrument, string? branch) =>
        new(phase, instrument, null, branch, new Millimetres(15), null, null, null, "limit", null, null, null, null, null, null, []);
}
