using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Instruments;
using Secondpass.Domain.Plans;
using Secondpass.Removal.Planner;

namespace Secondpass.Tests.Removal.Planner;

/// <summary>Which instrument reaches a place and touches the wall there.</summary>
public sealed class PassReachTests
{
    private static readonly string[] Rotary = ["retreatment-30-04"];

    [Fact]
    public void A_rotary_file_touches_a_wall_only_where_it_is_as_wide_as_the_canal()
    {
        // 30/.04 stopped at 2.0 mm is 0.30 mm wide there and 0.50 mm wide 5 mm higher up.
        var narrow = Reach(PlanOf.Cone(0.30, 0.02), Rotary, 4, 5);
        var wide = Reach(PlanOf.Cone(0.90, 0.00), Rotary, 4, 5);

        Assert.True(narrow.TouchesAll);
        Assert.Null(wide.StopFromEnd);
        Assert.Null(wide.TouchedFromEndMillimetres);
    }

    [Fact]
    public void An_adaptive_core_counts_as_wide_as_it_opens()
    {
        // Opened to 1.5 mm half way along its 16 mm, it fills a canal of 0.9 mm at 6 mm from the end.
        var reach = Reach(PlanOf.Cone(0.90, 0.00), ["adaptive-core-25"], 5.5, 6.5);

        Assert.True(reach.TouchesAll);
        Assert.Equal(WallContact.ByWidth, reach.Contact);
    }

    [Fact]
    public void A_pre_curved_ultrasonic_file_touches_whatever_wall_it_is_led_to_as_deep_as_it_may_go()
    {
        var reach = Reach(PlanOf.Cone(0.90, 0.00), ["ultrasonic-25"], 1, 4);

        Assert.Equal(WallContact.Led, reach.Contact);
        Assert.False(reach.TouchesAll);
        Assert.Equal(2.0, reach.TouchedFromEndMillimetres!.Value.Low, 9);
        Assert.StartsWith("Margin of driven instruments: 2.0 mm short of", reach.Limit, StringComparison.Ordinal);
    }

    [Fact]
    public void Nothing_driven_reaches_what_lies_below_the_margin_until_a_length_meter_was_read()
    {
        var byFilm = Reach(PlanOf.Cone(0.25, 0.02), ["ultrasonic-25"], 1.1, 1.6);
        var byMeter = Reach(
            PlanOf.Cone(0.25, 0.02),
            ["ultrasonic-25"],
            1.1,
            1.6,
            PlanOf.Canal() with { Lengths = [PlanOf.Length(LengthEnd.WorkingLength, 20)] });

        Assert.Null(byFilm.StopFromEnd);
        Assert.True(byMeter.TouchesAll);
    }

    [Fact]
    public void Stops_where_the_plan_stops_and_names_the_same_limit()
    {
        // The planned size keeps the .06 higher up than any place does.
        var measures = PlanOf.Cone(0.25, 0.02);
        var request = PlanOf.Request().Measured("MB1", measures) with
        {
            Choices = new Dictionary<string, CanalChoice> { ["MB1"] = new(null, new FinalSize(35, 0.04)) },
        };
        var planned = request.Planned().Step("retreatment-30-06");

        var reach = Assert.Single(PassReach.Of(request, "MB1", Kinds(["retreatment-30-06"]), planned.StopFromEnd!.Value.Value - 1, planned.StopFromEnd.Value.Value + 3));

        Assert.Equal(planned.StopFromEnd.Value.Value, reach.StopFromEnd!.Value.Value, 9);
        Assert.False(reach.TouchesAll);
        Assert.Equal(planned.BindingLimit, reach.Limit);
    }

    [Fact]
    public void Stays_short_of_a_ledge_and_says_so()
    {
        var ledged = PlanOf.Canal() with
        {
            Obstacles = [Obstacle.Ledge],
            Lengths = [PlanOf.Length(LengthEnd.WorkingLength, 20), PlanOf.Length(LengthEnd.FileStop, 15)],
        };

        var reach = Reach(PlanOf.Cone(0.30, 0.02), ["hedstrom-25"], 2, 4, ledged);

        Assert.Null(reach.StopFromEnd);
        Assert.StartsWith("Ledge: just short of it, by 1 mm.", reach.Limit, StringComparison.Ordinal);
    }

    [Fact]
    public void Gives_the_stop_from_the_reference_point_where_a_length_is_noted()
    {
        var reach = Reach(PlanOf.Cone(0.30, 0.02), Rotary, 4, 5);

        Assert.Equal("mesiobuccal cusp", reach.Reference);
        Assert.Equal(20 - reach.StopFromEnd!.Value.Value, reach.StopFromReference!.Value.Value, 9);
    }

    [Fact]
    public void Says_nothing_where_the_canal_was_not_measured()
    {
        Assert.Empty(PassReach.Of(PlanOf.Request(), "MB1", Kinds(Rotary), 2, 3));
        Assert.Empty(PassReach.Of(PlanOf.Request().Measured("MB1", PlanOf.Cone(0.3, 0.02)), "MB1", Kinds(Rotary), 14.8, 15.2));
    }

    [Fact]
    public void Leaves_out_an_ultrasonic_tip_that_does_not_fit_the_unit()
    {
        var request = PlanOf.Request().Measured("MB1", PlanOf.Cone(0.3, 0.02)) with { Unit = new UltrasonicUnit("old unit", "M3", null) };

        Assert.Empty(PassReach.Of(request, "MB1", Kinds(["ultrasonic-25"]), 3, 4));
    }

    private static KindReach Reach(CanalMeasures measures, string[] codes, double deep, double high, CanalRecord? canal = null) =>
        Assert.Single(PassReach.Of(PlanOf.Request(canal ?? PlanOf.Canal()).Measured("MB1", measures), "MB1", Kinds(codes), deep, high));

    private static InstrumentKind[] Kinds(string[] codes) => [.. codes.Select(code => ShippedKinds.All.Single(kind => kind.Code == code))];
}
