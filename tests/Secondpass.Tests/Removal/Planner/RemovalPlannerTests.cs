using CsCheck;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Instruments;
using Secondpass.Domain.Plans;
using Secondpass.Removal.Planner;
using static Secondpass.Tests.Removal.Planner.PlanOf;

namespace Secondpass.Tests.Removal.Planner;

public sealed class RemovalPlannerTests
{
    [Fact]
    public void The_shipped_sequence_is_taken_in_its_order_after_the_coronal_filling()
    {
        var plan = Request().Planned();

        Assert.Equal(["heated-plugger", "ultrasonic-25", "retreatment-30-06", "retreatment-30-04", "adaptive-core-25"], plan.Steps.Select(step => step.KindCode));
        Assert.Equal([RemovalPhase.Coronal, RemovalPhase.Bulk, RemovalPhase.Bulk, RemovalPhase.Bulk, RemovalPhase.Walls], plan.Steps.Select(step => step.Phase));
    }

    [Fact]
    public void Take_down_comes_first_and_has_minutes_only_for_the_post()
    {
        var plan = (Request() with { TakeDown = new TakeDown("ceramic crown", "composite core", "fibre post") }).Planned();

        Assert.Equal([RemovalPhase.TakeDown, RemovalPhase.TakeDown, RemovalPhase.TakeDown, RemovalPhase.Coronal], plan.Steps.Take(4).Select(step => step.Phase));
        Assert.Equal([null, null, 6.5, null], plan.Steps.Take(4).Select(step => step.Minutes?.Value));
    }

    // Mean 6.5 and mode 3 min: Abbott, Int Endod J 2002;35:63–67. The interval is that of the log-normal that has both, computed anew here.
    [Fact]
    public void Minutes_of_a_post_have_the_published_mean_and_mode()
    {
        var variance = Math.Log(6.5 / 3) / 1.5;
        var middle = Math.Log(6.5) - (variance / 2);
        var range = PlanFacts.PostMinutes.Range!.Value;

        Assert.Equal(3, Math.Exp(middle - variance), 1e-9);
        Assert.Equal(Math.Exp(middle - (1.959964 * Math.Sqrt(variance))), range.Low, 0.05);
        Assert.Equal(Math.Exp(middle + (1.959964 * Math.Sqrt(variance))), range.High, 0.05);
    }

    [Fact]
    public void Until_a_length_meter_was_read_driven_instruments_keep_2_mm_from_the_end()
    {
        var step = Request().Planned().Step("retreatment-30-06");

        Assert.Equal((18.0, 2.0), (step.StopFromReference!.Value.Value, step.StopFromEnd!.Value.Value));
        Assert.Equal("Margin of driven instruments: 2.0 mm short of the radiographic apex while its length comes from a film. Deeper needs a length-meter reading after clearing.", step.BindingLimit);
    }

    [Fact]
    public void With_a_length_meter_reading_the_margin_is_half_a_millimetre_and_the_end_of_the_filling_binds()
    {
        var step = Request(Canal() with { Lengths = [Length(LengthEnd.RadiographicApex, 20, LengthSource.Film), Length(LengthEnd.Foramen, 19.5)] }).Planned().Step("retreatment-30-04");

        Assert.Equal((18.5, 1.0), (step.StopFromReference!.Value.Value, step.StopFromEnd!.Value.Value));
        Assert.Equal("The old filling ends 1.0 mm short of the end: nothing to remove below it. Deeper is for a small hand file first.", step.BindingLimit);
    }

    [Fact]
    public void Lengths_from_a_reference_point_that_was_reduced_since_do_not_count()
    {
        var reduced = new LengthReading(Cusp with { Version = 2 }, LengthEnd.RadiographicApex, Mm(18.5), LengthSource.Film);
        var plan = Request(Canal() with { Lengths = [Length(LengthEnd.RadiographicApex, 20, LengthSource.Film), reduced] }).Planned();

        Assert.Equal(16.5, plan.Step("retreatment-30-06").StopFromReference!.Value.Value);
        Assert.Contains("MB1: 1 older length(s) don't count: their reference point was reduced since.", plan.Assumptions);
    }

    [Fact]
    public void Without_widths_nothing_is_said_of_walls_and_dentine_but_that_it_is_not_measured()
    {
        var plan = Request().Planned();

        Assert.All(plan.Steps, step => Assert.Equal((null, null), (step.WallLeft, step.LossPerSide)));
        Assert.Contains("MB1: widths of filling and canal are not measured, so dentine cut and wall left are not known.", plan.Assumptions);
        Assert.Contains("MB1: wall not measured.", plan.Assumptions);
    }

    // Worked by hand: 30/.06 at 2 mm short is 0.30 + 0.06·(L − 2) wide; the canal 0.30 + 0.04·L. At 14 mm 1.02 against 0.86: 0.08 mm a side.
    [Fact]
    public void Dentine_cut_and_wall_left_follow_from_the_widths()
    {
        var step = Request().Measured("MB1", Cone(0.30, 0.04, Wall(14, 1.2), Wall(6, 1.5))).Planned().Step("retreatment-30-06");

        Assert.Equal(2.0, step.StopFromEnd!.Value.Value);
        Assert.Equal(0.08, step.LossPerSide!.Value.Value, 1e-9);
        Assert.Equal(1.12, step.WallLeft!.Value.Value, 1e-9);
    }

    // The limit of 0.20 mm a side: 0.30 + 0.12·(14 − S) = 0.86 + 0.40 at S = 6.0.
    [Fact]
    public void A_taper_that_takes_too_much_stops_where_the_loss_reaches_the_limit_and_says_what_it_would_need()
    {
        var request = Request().Measured("MB1", Cone(0.30, 0.04)) with { Sequence = new Sequence("Large", [new("retreatment-30-12", null, null, null)]) };
        var step = request.Planned().Step("retreatment-30-12");

        Assert.Equal(6.0, step.StopFromEnd!.Value.Value, 1e-9);
        Assert.Equal(0.20, step.LossPerSide!.Value.Value, 1e-9);
        Assert.Equal("Dentine cut: 0.1 mm deeper would take 0.21 mm from each side at 14.0 mm from the end; 0.20 mm is the limit. Deeper needs a smaller taper, or a higher limit.", step.BindingLimit);
    }

    [Fact]
    public void A_thin_wall_stops_an_instrument_before_it_leaves_less_than_the_least()
    {
        // 0.56 mm at 10 mm from the end: 0.06 mm a side may go; the canal is 0.70 wide there, the instrument 0.30 + 0.06·(10 − S): S = 1.333…, so the margin of 2 binds …
        var thick = Request().Measured("MB1", Cone(0.30, 0.04, Wall(10, 0.56))).Planned().Step("retreatment-30-06");
        Assert.Equal(2.0, thick.StopFromEnd!.Value.Value);

        // … and with 0.51 mm 0.01 mm may go: S = 3.0.
        var thin = Request().Measured("MB1", Cone(0.30, 0.04, Wall(10, 0.51))).Planned().Step("retreatment-30-06");
        Assert.Equal(3.0, thin.StopFromEnd!.Value.Value, 1e-9);
        Assert.Equal(0.50, thin.WallLeft!.Value.Value, 1e-9);
        Assert.StartsWith("Wall left: 0.1 mm deeper would leave 0.49 mm, distal, at 10.0 mm from the end; 0.50 mm is the least.", thin.BindingLimit, StringComparison.Ordinal);
        Assert.Contains(thin.Cautions, caution => caution.StartsWith("Thin wall: 0.50 mm left, distal, at 10.0 mm", StringComparison.Ordinal));
    }

    [Fact]
    public void What_a_film_overstates_is_taken_off_the_wall_and_said()
    {
        var wall = new WallAtLevel(Mm(10), "left on the film", Mm(1.1), Mm(0.3), WallSource.Film);
        var plan = Request().Measured("MB1", Cone(0.40, 0.06, wall)).Planned();

        Assert.Equal(0.8, plan.Step("retreatment-30-06").WallLeft!.Value.Value, 1e-9);
        Assert.Contains("MB1: thinnest wall measured on the film: 0.80 mm, left on the film, at 10.0 mm from the end (1.10 mm less 0.30 mm for a concavity that a film doesn't show). Sides that no film or scan shows are not measured.", plan.Assumptions);
    }

    // 30/.06 against a planned 30/.04 that ends at the apex: 0.30 + 0.06·x ≤ 0.30 + 0.04·(S + x) over x = 0 … 14 − S holds from S = 14/3 = 4.67.
    [Fact]
    public void Nothing_is_opened_beyond_the_planned_final_size()
    {
        var request = Request().Measured("MB1", Cone(0.20, 0.02)) with
        {
            Choices = new Dictionary<string, CanalChoice> { ["MB1"] = new(null, new FinalSize(30, 0.04)) },
            Limits = PlanLimits.Default with { GreatestLossPerSide = Mm(1) },
        };
        var step = request.Planned().Step("retreatment-30-06");

        Assert.Equal(4.7, step.StopFromEnd!.Value.Value, 1e-9);
        Assert.StartsWith("Planned final size 30/.04: 0.1 mm deeper would open the canal to", step.BindingLimit, StringComparison.Ordinal);
    }

    [Fact]
    public void The_dentists_own_stop_holds()
    {
        var step = (Request() with { Choices = new Dictionary<string, CanalChoice> { ["MB1"] = new(Mm(15), null) } }).Planned().Step("adaptive-core-25");

        Assert.Equal((15.0, 5.0), (step.StopFromReference!.Value.Value, step.StopFromEnd!.Value.Value));
        Assert.Equal("Your own limit for MB1: no deeper than 15.0 mm. Deeper needs you to change it.", step.BindingLimit);
    }

    [Fact]
    public void Filling_beyond_the_end_keeps_its_apical_part_whole_until_it_is_drawn_out()
    {
        var plan = Request(Canal() with { Filling = CanalFilling.BeyondEnd, FillingEndToCanalEnd = Mm(-0.8) }).Planned();

        Assert.Equal(["heated-plugger", "ultrasonic-25", "retreatment-30-06", "retreatment-30-04", "hedstrom-25", "adaptive-core-25"], plan.Steps.Select(step => step.KindCode));
        Assert.Equal(3.0, plan.Step("retreatment-30-04").StopFromEnd!.Value.Value);
        Assert.Contains("unsoftened", plan.Step("hedstrom-25").Action, StringComparison.Ordinal);
        Assert.Equal((3, 20.0), (plan.Step("hedstrom-25").AttemptsAtMost, plan.Step("hedstrom-25").MinutesAtMost));
        Assert.Equal(2.0, plan.Step("adaptive-core-25").StopFromEnd!.Value.Value);
    }

    [Fact]
    public void A_loose_cone_is_drawn_out_first_without_heat_or_solvent()
    {
        var plan = (Request() with { Filling = OldFilling.SingleCone }).Planned();

        Assert.Equal("hedstrom-25", plan.Steps[0].KindCode);
        Assert.DoesNotContain(plan.Steps, step => step.KindCode == "heated-plugger");
        Assert.EndsWith("No heat, no solvent.", plan.Steps[0].Action, StringComparison.Ordinal);
    }

    [Fact]
    public void A_silver_point_is_never_touched_by_ultrasonics()
    {
        var plan = (Request(Canal() with { Obstacles = [Obstacle.Ledge] }) with { Filling = OldFilling.SilverPoint }).Planned();

        Assert.DoesNotContain(plan.Steps, step => ShippedKinds.All.Single(kind => kind.Code == step.KindCode).Sort == InstrumentSort.UltrasonicFile);
        Assert.Equal(["hedstrom-25", "forceps", "extractor-tube", "adaptive-core-25", "hand-10"], plan.Steps.Select(step => step.KindCode));
        Assert.Contains(plan.Refusals, refusal => refusal.Code == "never_ultrasonics_on_silver" && refusal.Reason.StartsWith("ultrasonic file 25/.02 is not taken in MB1", StringComparison.Ordinal));
    }

    [Fact]
    public void A_carrier_is_passed_and_gripped_before_the_sequence()
    {
        var plan = (Request() with { Filling = OldFilling.CarrierBased }).Planned();

        Assert.Equal(["heated-plugger", "hedstrom-25", "forceps", "ultrasonic-25", "retreatment-30-06", "retreatment-30-04", "adaptive-core-25"], plan.Steps.Select(step => step.KindCode));
    }

    [Fact]
    public void At_a_ledge_everything_stops_just_short_then_a_pre_curved_hand_file_then_a_pre_curved_ultrasonic_file()
    {
        var plan = Request(Canal() with
        {
            Filling = CanalFilling.ShortOfEnd,
            FillingEndToCanalEnd = Mm(3),
            Obstacles = [Obstacle.Ledge],
            Lengths = [Length(LengthEnd.RadiographicApex, 20, LengthSource.Film), Length(LengthEnd.FileStop, 16.5, LengthSource.InstrumentStop)],
        }).Planned();

        Assert.All(plan.Steps.Where(step => step.Phase is RemovalPhase.Bulk or RemovalPhase.Walls), step => Assert.Equal(15.5, step.StopFromReference!.Value.Value));
        Assert.Equal(["hand-10", "ultrasonic-25"], plan.Steps.Where(step => step.Phase == RemovalPhase.Obstacle).Select(step => step.KindCode));
        Assert.All(plan.Steps.Where(step => step.Phase == RemovalPhase.Obstacle), step =>
        {
            Assert.StartsWith("Pre-curve", step.Action, StringComparison.Ordinal);
            Assert.Equal((3, 10.0, "Fill to there and follow; surgery; or refer."), (step.AttemptsAtMost, step.MinutesAtMost, step.ThenWhat));
        });
        Assert.Equal(16.5, plan.Steps[^1].StopFromReference!.Value.Value);
    }

    [Fact]
    public void Roots_left_alone_canals_not_found_and_canals_not_filled_get_no_steps_and_are_said()
    {
        var plan = Request(
            Canal(),
            Canal("DB") with { Intent = CanalIntent.LeaveAlone },
            Canal("ML") with { Intent = CanalIntent.LeaveAlone, WhyLeftAlone = "filling sound, no lesion" },
            Canal("MB2") with { Intent = CanalIntent.LookFor, Found = false },
            Canal("P") with { Filling = CanalFilling.Unfilled }).Planned();

        Assert.All(plan.Steps, step => Assert.Equal("MB1", step.Branch));
        Assert.Contains("DB is left alone: its root is not treated again. That goes into consent and letter.", plan.Assumptions);
        Assert.Contains("ML is left alone (filling sound, no lesion): its root is not treated again. That goes into consent and letter.", plan.Assumptions);
        Assert.Contains("MB2 is expected and not found yet: look for it first. Searching is not counted in minutes.", plan.Assumptions);
        Assert.Contains("P is not filled: there is nothing to remove in it.", plan.Assumptions);
    }

    [Fact]
    public void A_trunk_counts_once_and_its_branch_has_only_steps_that_reach_past_the_split()
    {
        var branch = Canal("DL") with { Parent = "D", Meeting = new CanalMeeting(Joins: false, Mm(3), MeetingPlane.Mesiodistal) };
        var plan = Request(Canal("D"), branch).Planned();
        var own = plan.Steps.Where(step => step.Branch == "DL").ToList();

        Assert.Single(plan.Steps, step => step.Phase == RemovalPhase.Coronal);
        Assert.NotEmpty(own);
        Assert.All(own, step => Assert.True(step.StopFromEnd!.Value.Value < 3));

        // A blocked branch whose way ends above the split has nothing of its own but the obstacle.
        var blocked = Request(Canal("D"), branch with { Obstacles = [Obstacle.Blockage], Lengths = [Length(LengthEnd.RadiographicApex, 20, LengthSource.Film), Length(LengthEnd.FileStop, 17.5)] }).Planned();
        Assert.Equal(["hand-10"], blocked.Steps.Where(step => step.Branch == "DL").Select(step => step.KindCode));
    }

    [Fact]
    public void The_filling_of_a_trunk_counts_in_the_trunk_and_in_no_branch()
    {
        var branch = Canal("DL") with { Parent = "D", Meeting = new CanalMeeting(Joins: false, Mm(3), MeetingPlane.Mesiodistal), FillingEndToCanalEnd = Mm(0) };
        var plan = Request(Canal("D"), branch).Measured("D", Cone(0.3, 0.04)).Measured("DL", Cone(0.3, 0.04, Wall(8, 0.4), Wall(2.5, 0.9))).Planned();
        var step = plan.Step("ultrasonic-25", "DL");

        // A cone of 0.30 mm at the end and .04: π/12 · 3 · (0.30² + 0.30 · 0.42 + 0.42²) mm³ lie below the split.
        Assert.Equal(Math.PI / 4 * (0.09 + 0.126 + 0.1764), step.Volumes!.FillingBeforeCubicMillimetres, 0.01);
        Assert.True(plan.Step("ultrasonic-25", "D").Volumes!.FillingBeforeCubicMillimetres > 3);
        Assert.All(step.Cuts, cut => Assert.True(cut.FromEnd.Value <= 3));

        // The trunk's thinner wall is said there.
        Assert.Contains(plan.Assumptions, said => said.StartsWith("DL: thinnest wall measured on a cone-beam scan: 0.90 mm", StringComparison.Ordinal));
        Assert.Contains("DL leaves D 3.0 mm from its end: only what lies below that is counted here, the rest in D.", plan.Assumptions);
        Assert.StartsWith("Below the split, in DL: break up and lift the filling out.", step.Action, StringComparison.Ordinal);
    }

    [Fact]
    public void Below_a_split_nothing_is_taken_again_that_what_went_before_it_is_as_wide_as()
    {
        var branch = Canal("DL") with { Parent = "D", Meeting = new CanalMeeting(Joins: false, Mm(3), MeetingPlane.Mesiodistal) };
        var plan = Request(Canal("D"), branch).Planned();

        // Both stop 2 mm short: the .06 leaves nothing there that the .04 could take. In the trunk the clinic's sequence stands.
        Assert.Equal(["ultrasonic-25", "retreatment-30-06", "adaptive-core-25"], plan.Steps.Where(step => step.Branch == "DL").Select(step => step.KindCode));
        Assert.Contains(plan.Steps, step => step is { Branch: "D", KindCode: "retreatment-30-04" });
        Assert.Contains("DL: retreatment rotary 30/.04 is not taken again below the split: what goes before it there is as wide.", plan.Assumptions);
    }

    [Fact]
    public void A_carrier_is_gripped_once_in_the_trunk()
    {
        var branch = Canal("DL") with { Parent = "D", Meeting = new CanalMeeting(Joins: false, Mm(3), MeetingPlane.Mesiodistal) };
        var plan = (Request(Canal("D"), branch) with { Filling = OldFilling.CarrierBased }).Planned();

        Assert.Equal("D", Assert.Single(plan.Steps, step => step.Action.StartsWith("Grip", StringComparison.Ordinal)).Branch);
    }

    [Fact]
    public void A_canal_that_joins_another_is_worked_to_the_join_and_no_further()
    {
        var joins = Canal("MB2") with { Parent = "MB1", Meeting = new CanalMeeting(Joins: true, Mm(4), MeetingPlane.Buccolingual) };
        var step = Request(Canal(), joins).Planned().Step("retreatment-30-06", "MB2");

        Assert.Equal(4.0, step.StopFromEnd!.Value.Value);
        Assert.Equal("MB2 joins MB1 4.0 mm from the end: what lies below is done in MB1.", step.BindingLimit);
    }

    [Fact]
    public void The_item_already_begun_is_taken_and_its_use_is_named()
    {
        InstrumentItem[] stock = [Item("a", 0), Item("b", 2), Item("c", 5), Item("d", 4) with { Retired = true }];
        var plan = (Request(Canal(), Canal("P")) with { Items = stock }).Planned();

        Assert.Equal(new PlannedUse("b", "kit b", "use 3 of 5"), plan.Step("retreatment-30-06").Use);
        Assert.Equal(plan.Step("retreatment-30-06").Use, plan.Step("retreatment-30-06", "P").Use);
        Assert.Null(plan.Step("retreatment-30-04").Use);
        Assert.Empty(plan.Refusals);
    }

    [Fact]
    public void Where_uses_are_counted_per_canal_each_canal_is_a_use_and_a_fresh_item_is_taken_when_one_is_used_up()
    {
        var request = Request(Canal(), Canal("P"), Canal("DB")) with { UseCount = UseCount.PerCanal };
        var plan = (request with { Items = [Item("a", 3), Item("b", 0)] }).Planned();

        Assert.Equal(
            [new("a", "kit a", "use 4 of 5"), new("a", "kit a", "use 5 of 5"), new("b", "kit b", "use 1 of 5")],
            ((string[])["MB1", "P", "DB"]).Select(canal => plan.Step("retreatment-30-06", canal).Use));
        Assert.Equal(
            "No retreatment rotary 30/.06 with uses left (kit a: 5 of 5 uses, 2 of them in this plan).",
            Assert.Single((request with { Items = [Item("a", 3)] }).Planned().Refusals).Reason);
    }

    [Fact]
    public void With_no_uses_left_it_says_so_once_quotes_them_and_still_plans_the_step()
    {
        var plan = (Request(Canal(), Canal("P")) with { Items = [Item("a", 5), Item("b", 7)] }).Planned();

        Assert.Null(plan.Step("retreatment-30-06").Use);
        var refusal = Assert.Single(plan.Refusals);
        Assert.Equal("no_uses_left", refusal.Code);
        Assert.Equal("No retreatment rotary 30/.06 with uses left (kit a: 5 of 5 uses; kit b: 7 of 5 uses).", refusal.Reason);
        Assert.Equal("Open a new one and enter it under Instruments. The plan doesn't wait for it: after the visit it asks what was used.", refusal.Remedy);
    }

    [Fact]
    public void A_tip_that_does_not_fit_the_unit_is_never_proposed()
    {
        var plan = (Request(Canal() with { Obstacles = [Obstacle.Ledge] }) with { Unit = new UltrasonicUnit("Surgery 1", "M3 × 0.5", null) }).Planned();

        Assert.DoesNotContain(plan.Steps, step => step.KindCode?.StartsWith("ultrasonic", StringComparison.Ordinal) == true);
        Assert.Contains(plan.Refusals, refusal => refusal.Reason == "ultrasonic file 25/.02 needs “file chuck”; ultrasonic unit Surgery 1 takes thread M3 × 0.5, no chuck. It is left out.");
    }

    [Fact]
    public void A_speed_outside_the_makers_range_is_said_beside_the_step() =>
        Assert.Equal(
            "400 rpm is outside the maker's 150–300 rpm for retreatment rotary 30/.06, by 100 rpm above.",
            Request().Planned().Step("retreatment-30-06").Cautions[0]);

    [Fact]
    public void Where_resin_is_bonded_afterwards_there_is_no_solvent_whatever_the_clinic_prefers()
    {
        var prefers = Request() with { Solvent = new SolventPreference("chloroform", null) };

        Assert.Contains("Solvent as the clinic prefers: chloroform, only after the bulk is out, never where filling lies beyond the end.", prefers.Planned().Assumptions);
        Assert.Contains((prefers with { ResinFollows = true }).Planned().Assumptions, said => said.StartsWith("No solvent: resin is bonded afterwards, and bonds fell to 18.3 MPa after chloroform", StringComparison.Ordinal));
        Assert.Contains("No solvent: the bulk comes out first.", Request().Planned().Assumptions);
    }

    [Fact]
    public void Nothing_to_remove_is_a_refusal_that_says_why()
    {
        var refusal = RemovalPlanner.Plan(Request(Canal() with { Filling = CanalFilling.Unfilled })).Refusal;

        Assert.Equal(
            ("nothing_to_remove", "There is no step to plan. MB1 is not filled: there is nothing to remove in it.", "Say which canals are filled and to be treated again, or choose another sequence."),
            (refusal.Code, refusal.Reason, refusal.Remedy));
    }

    [Fact]
    public void A_stop_beyond_the_canal_is_refused_and_quoted()
    {
        var request = Request() with { Choices = new Dictionary<string, CanalChoice> { ["MB1"] = new(Mm(25), null) } };

        Assert.Equal(
            "The stop at 25 mm lies beyond the end of MB1, which is 20 mm from the mesiobuccal cusp to the radiographic apex.",
            RemovalPlanner.Plan(request).Refusal.Reason);
    }

    [Fact]
    public void A_file_stop_beyond_the_canal_an_unknown_instrument_and_a_meeting_outside_are_refused_and_quoted()
    {
        string Reason(PlanRequest request) => RemovalPlanner.WhyImpossible(request)!.Reason;

        Assert.Equal(
            "The place where a file stopped at 22 mm lies beyond the end of MB1, which is 20 mm from the mesiobuccal cusp to the radiographic apex.",
            Reason(Request(Canal() with { Lengths = [.. Canal().Lengths, Length(LengthEnd.FileStop, 22)] })));
        Assert.Equal(
            "“no-such”, in the sequence “Odd”, is not a kind of instrument that is known here.",
            Reason(Request() with { Sequence = new Sequence("Odd", [new("no-such", null, null, null)]) }));
        Assert.Equal(
            "The meeting 31 mm from the end of DL does not lie in the canal, which is 20 mm long.",
            Reason(Request(Canal("D"), Canal("DL") with { Parent = "D", Meeting = new CanalMeeting(false, Mm(31), MeetingPlane.Unknown) })));
        Assert.Equal("DL is said to leave “D”, which is not a canal of this tooth.", Reason(Request(Canal("DL") with { Parent = "D" })));
        Assert.Null(RemovalPlanner.WhyImpossible(Request()));
    }

    // Laws that hold whatever the canal: no step ends beyond the canal, every limit is kept, and a stricter limit never lets an instrument deeper.
    [Fact]
    public void Every_step_keeps_the_limits_and_stricter_limits_never_go_deeper() => (
        from tip in Gen.Double[0.2, 0.6]
        from taper in Gen.Double[0.0, 0.06]
        from wallAt in Gen.Double[1, 13]
        from wall in Gen.Double[0.3, 1.5]
        from loss in Gen.Double[0.02, 0.4]
        from least in Gen.Double[0.3, 1.0]
        from shortOf in Gen.Double[-1, 5]
        select (tip, taper, wallAt, wall, loss, least, shortOf)).Sample(one =>
        {
            var canal = Canal() with { FillingEndToCanalEnd = Mm(one.shortOf), Filling = FillingLength.Classify(Mm(one.shortOf)) };
            var request = Request(canal).Measured("MB1", Cone(one.tip, one.taper, Wall(one.wallAt, one.wall))) with
            {
                Limits = PlanLimits.Default with { GreatestLossPerSide = Mm(one.loss), LeastWallLeft = Mm(one.least) },
            };
            var plan = request.Planned();
            var stricter = (request with { Limits = request.Limits with { GreatestLossPerSide = Mm(one.loss / 2), LeastWallLeft = Mm(one.least + 0.1) } }).Planned();
            foreach (var step in plan.Steps.Where(step => step.Cuts.Count > 0))
            {
                Assert.True(step.StopFromEnd!.Value.Value >= 0);
                Assert.True(step.LossPerSide!.Value.Value <= one.loss + 1e-9);
                Assert.All(step.Cuts, cut => Assert.True(cut.After.Value >= cut.Before.Value));

                // A wall thinner than the least before anything is cut stays as it is.
                Assert.True(step.WallLeft is not { } left || left.Value >= Math.Min(one.least, one.wall) - 1e-9);
                var same = stricter.Steps.SingleOrDefault(other => other.KindCode == step.KindCode && other.Phase == step.Phase);
                Assert.True(same is null || same.StopFromEnd!.Value.Value >= step.StopFromEnd.Value.Value - 1e-9);
            }
        });

    private static InstrumentItem Item(string id, int uses) => new(id, "retreatment-30-06", $"kit {id}", uses, Retired: false);
}
