using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Quantities;
using Secondpass.Job.Cases;

namespace Secondpass.Tests.Job.Cases;

public sealed class NoteCanalsTests : IDisposable
{
    private readonly CaseDesk desk = new();

    public void Dispose() => desk.Dispose();

    [Fact]
    public void Begins_with_the_usual_canals_not_judged()
    {
        var form = CanalsForm.Of(desk.Open());

        Assert.Equal(["MB1", "DB", "P"], form.Canals.Select(canal => canal.Name));
        Assert.All(form.Canals, canal => Assert.Equal(CanalFilling.NotJudged, canal.Filling));
    }

    // 73.8 % (48.0–97.6 by country): Martins et al., J Endod 2018;44:1641–1649.
    [Fact]
    public void Says_that_a_second_canal_is_expected_one_is_filled_off_centre_and_where_to_look()
    {
        var it = Noted("16", form =>
        {
            form.Canals[0].Filling = CanalFilling.Filled;
            form.Canals[0].OffCentre = "0,4";
        });

        var row = CanalTable.Of(it)[0];

        Assert.Equal(["MB1", "MB2 73.8 % (48–97.6 by country)"], row.Expected);
        Assert.Equal(["MB1"], row.Found);
        Assert.Equal(["MB2"], row.NotFound);
        Assert.Equal(["MB1 0.4 mm"], row.OffCentre);
        Assert.Equal("This root has a second canal (MB2) in 73.8 % (48–97.6 by country); one is filled, and it lies 0.4 mm off centre: look palatal.", Assert.Single(row.Sentences));
        Assert.Contains("Martins", Assert.Single(row.Sources), StringComparison.Ordinal);
    }

    [Fact]
    public void Says_that_there_is_no_figure_where_none_was_published()
    {
        var distal = CanalTable.Of(desk.Open("37")).Single(row => row.Root == "D");

        Assert.Equal("This root has a second canal (D2): no published figure here.", Assert.Single(distal.Sentences));
        Assert.Empty(distal.Sources);
    }

    [Fact]
    public void A_canal_found_later_is_added_with_one_tap()
    {
        var it = Noted("16", form => form.Add = "MB2");

        var found = it.Canals.Single(canal => canal.Name == "MB2");
        Assert.Equal(("MB", true, CanalFilling.Unfilled), (found.Root, found.Found, found.Filling));
        Assert.Contains("MB2 was found and is not filled.", CanalTable.Of(it)[0].Sentences);
    }

    [Fact]
    public void A_distal_root_that_splits_mesiodistally_in_its_apical_third_is_noted_with_a_blocked_branch()
    {
        var it = Noted("47", form =>
        {
            form.Canals.Add(new CanalLine
            {
                Name = "D2",
                Root = "D",
                Found = true,
                Filling = CanalFilling.Unfilled,
                Parent = "D",
                Meets = CanalLine.Splits,
                MeetsFromEnd = "3",
                Plane = MeetingPlane.Mesiodistal,
                Obstacles = [Obstacle.Blockage],
            });
        });

        var branch = it.Canals.Single(canal => canal.Name == "D2");
        Assert.Equal(("D", new CanalMeeting(false, new Millimetres(3), MeetingPlane.Mesiodistal)), (branch.Parent, branch.Meeting));
        Assert.Equal([Obstacle.Blockage], branch.Obstacles);
        Assert.Contains("D2 splits off D mesiodistally, 3.0 mm from the end.", CanalTable.Of(it).Single(row => row.Root == "D").Sentences);
    }

    [Theory]
    [InlineData("40", "DB, level of the split: 40 mm can't be.", "Enter 0 to 35 mm, or leave it empty.")]
    [InlineData("-1", "DB, level of the split: -1 mm can't be.", "Enter 0 to 35 mm, or leave it empty.")]
    [InlineData("three", "DB, level of the split: “three” is not a number.", "Enter 0 to 35 mm, or leave it empty.")]
    public void Refuses_a_split_that_can_t_be(string level, string reason, string remedy)
    {
        var refusal = Refused(form =>
        {
            form.Canals[1].Parent = "P";
            form.Canals[1].MeetsFromEnd = level;
        });

        Assert.Equal((reason, remedy), (refusal.Reason, refusal.Remedy));
    }

    [Fact]
    public void Refuses_a_split_further_up_than_the_canal_was_read_to_be_long()
    {
        var it = Noted("16", _ => { });
        it = desk.Lengths.Note(it.Id, new LengthForm { Version = it.Version, Canal = "DB", Reference = "distobuccal cusp", To = LengthEnd.Foramen, Length = "19,5" }, CaseDesk.Anna).Value;
        var form = CanalsForm.Of(it);
        form.Canals[1].Parent = "P";
        form.Canals[1].MeetsFromEnd = "22";

        var refusal = desk.Canals.Note(it.Id, form, [], CaseDesk.Anna).Refusal;

        Assert.Equal(("DB, level of the split: 22 mm can't be.", "Enter 0 to 19.5 mm, or leave it empty."), (refusal.Reason, refusal.Remedy));
    }

    [Fact]
    public void Refuses_two_canals_of_one_name() => Assert.Equal("Two canals are called “DB”.", Refused(form => form.Canals[0].Name = "DB").Reason);

    [Fact]
    public void Refuses_branches_of_each_other() => Assert.Equal("MB1 and DB are branches of each other.", Refused(form =>
    {
        form.Canals[0].Parent = "DB";
        form.Canals[1].Parent = "MB1";
    }).Reason);

    [Fact]
    public void Refuses_a_branch_of_a_canal_that_is_not_there() =>
        Assert.Equal("DB leaves or joins “MB7”, which is not one of the canals.", Refused(form => form.Canals[1].Parent = "MB7").Reason);

    [Theory]
    [InlineData(CanalFilling.BeyondEnd, "2", "MB1: “beyond” is chosen, and the filling end says 2 mm.")]
    [InlineData(CanalFilling.ShortOfEnd, "-1", "MB1: “short” is chosen, and the filling end says -1 mm.")]
    [InlineData(CanalFilling.Unfilled, "1", "MB1: “not filled” is chosen, and the filling end says 1 mm.")]
    public void Refuses_a_filling_end_that_contradicts_what_is_chosen(CanalFilling filling, string end, string reason) => Assert.Equal(reason, Refused(form =>
    {
        form.Canals[0].Filling = filling;
        form.Canals[0].FillingEnd = end;
    }).Reason);

    [Fact]
    public void Refuses_a_file_that_is_no_film_and_notes_nothing_of_the_table()
    {
        var it = desk.Open();

        var refusal = desk.Canals.Note(it.Id, CanalsForm.Of(it), [new SentFile("film.png", "hello"u8.ToArray())], CaseDesk.Anna).Refusal;

        Assert.StartsWith("“film.png”: ", refusal.Reason, StringComparison.Ordinal);
        Assert.Empty(desk.Register.Read(it.Id.Value).Value.Canals);
    }

    [Fact]
    public void A_root_left_alone_is_known_for_consent_and_letter()
    {
        var it = Noted("16", form => form.LeaveAlone = "P");

        Assert.Equal("P", Assert.Single(RootState.LeftAlone(it)).Root);
        Assert.Contains("The palatal root is left alone.", CanalTable.Of(it).Single(row => row.Root == "P").Sentences);
    }

    [Fact]
    public void The_reason_for_leaving_a_root_alone_is_tapped_or_typed_and_stands_in_consent()
    {
        var it = Noted("16", form => (form.LeaveAlone, form.Because) = ("P", "P:filling sound, no lesion"));
        Assert.Contains("The palatal root is left alone: filling sound, no lesion.", CanalTable.Of(it).Single(row => row.Root == "P").Sentences);
        Assert.Equal(
            ["Not all roots of the upper right first molar are treated again.", "The palatal root is left alone: filling sound, no lesion.", "A root that is left alone can become ill later and need treatment then."],
            Consent.Of(it));

        var form = CanalsForm.Of(it);
        form.Reasons.Single(line => line.Root == "P").Why = " crown too good to lose. ";
        it = desk.Canals.Note(it.Id, form, [], CaseDesk.Anna).Value;
        Assert.Equal("The palatal root is left alone: crown too good to lose.", Consent.Of(it)[1]);

        form = CanalsForm.Of(it);
        form.Treat = "P";
        it = desk.Canals.Note(it.Id, form, [], CaseDesk.Anna).Value;
        Assert.Equal(["All root canals of the upper right first molar are treated again."], Consent.Of(it));
        Assert.DoesNotContain(it.Canals, canal => canal.WhyLeftAlone is not null);
    }

    [Fact]
    public void A_scan_that_does_not_show_the_second_canal_lowers_the_expectation_and_does_not_end_it()
    {
        var it = desk.Open();
        var form = ScanForm.Of(it);
        form.Canals.Single(line => line.Name == "MB1").Seen = true;

        it = desk.Scans.Read(it.Id, form, CaseDesk.Anna).Value;

        Assert.Contains(
            "The cone-beam scan does not show MB2; a scan misses some, and 28 % remain likely (sensitivity and specificity 0.88).",
            CanalTable.Of(it)[0].Sentences);
    }

    [Fact]
    public void Findings_of_a_scan_are_kept_as_typed()
    {
        var it = desk.Open();
        var form = ScanForm.Of(it);
        var line = form.Canals.Single(canal => canal.Name == "MB2");
        (line.Seen, line.Meets, line.MeetsFromEnd, line.Plane, line.CurveDegrees) = (true, CanalLine.Joins, "4,5", MeetingPlane.Buccolingual, "22");
        (form.Walls[0].Canal, form.Walls[0].Side, form.Walls[0].FromEnd, form.Walls[0].Thickness) = ("MB2", "distal", "5", "0,9");

        var scan = desk.Scans.Read(it.Id, form, CaseDesk.Anna).Value.ConeBeam!;

        Assert.Equal(new CanalMeeting(true, new Millimetres(4.5), MeetingPlane.Buccolingual), scan.Meetings["MB2"]);
        Assert.Equal(22, scan.BuccolingualCurveDegrees["MB2"]);
        Assert.Equal(new WallReading("MB2", new Millimetres(5), "distal", new Millimetres(0.9)), Assert.Single(scan.Walls));
    }

    [Fact]
    public void Refuses_findings_about_a_canal_that_the_scan_does_not_show_and_half_a_wall()
    {
        var it = desk.Open();
        var unseen = ScanForm.Of(it);
        unseen.Canals[0].CurveDegrees = "20";
        var half = ScanForm.Of(it);
        (half.Walls[0].Canal, half.Walls[0].FromEnd) = ("MB1", "5");

        Assert.Equal("Something is entered about MB1, and it is not marked as seen on the scan.", desk.Scans.Read(it.Id, unseen, CaseDesk.Anna).Refusal.Reason);
        Assert.Equal("The distal wall of MB1 has a level or a thickness and not both.", desk.Scans.Read(it.Id, half, CaseDesk.Anna).Refusal.Reason);
    }

    [Fact]
    public void A_length_no_longer_holds_once_its_reference_point_was_lost_and_a_new_one_does()
    {
        var it = Noted("16", _ => { });
        it = Length(it, "21.5");
        Assert.True(it.Holds(it.Canals[0].Lengths[0]));

        it = desk.Lengths.Lose(it.Id, it.Version, "mesiobuccal cusp", "reduced by 1 mm", CaseDesk.Anna).Value;
        it = Length(it, "20.5");

        Assert.Equal([(21.5, false), (20.5, true)], it.Canals[0].Lengths.Select(length => (length.Length.Value, it.Holds(length))));
    }

    [Fact]
    public void What_the_table_does_not_show_of_a_canal_survives_saving_it_and_renaming_it()
    {
        var it = Length(Noted("16", _ => { }), "21.5");
        var form = CanalsForm.Of(it);
        form.Canals[0].Name = "MB";

        it = desk.Canals.Note(it.Id, form, [], CaseDesk.Anna).Value;

        Assert.Equal(("MB", 21.5), (it.Canals[0].Name, Assert.Single(it.Canals[0].Lengths).Length.Value));
    }

    [Fact]
    public void What_is_measured_on_a_film_of_the_case_goes_into_the_table_and_stays_with_its_marks()
    {
        var it = Noted("16", _ => { }, new SentFile("before.png", DemoFilm.Before(DemoFilm.Molar)));
        var film = Assert.Single(it.Films).Sha256;

        it = desk.Measuring.Note(it.Id, it.Version, film, DemoFilm.CaseText(DemoFilm.Molar), CaseDesk.Anna).Value;

        Assert.Equal(["MB1", "DB", "P"], it.Canals.Select(canal => canal.Name));
        Assert.All(it.Canals, canal => Assert.NotNull(canal.FillingEndToCanalEnd));
        Assert.Equal(film, Assert.Single(it.Measured).FilmSha256);
        Assert.Equal("film_of_another_case", desk.Measuring.Note(it.Id, it.Version, new string('0', 64), DemoFilm.CaseText(DemoFilm.Molar), CaseDesk.Anna).Refusal.Code);
    }

    [Fact]
    public void The_surfaces_of_other_roots_at_the_furcation_are_not_taken_for_those_of_the_palatal_root()
    {
        var it = Noted("16", _ => { }, new SentFile("before.png", DemoFilm.Before(DemoFilm.Molar)));

        it = desk.Measuring.Note(it.Id, it.Version, it.Films[0].Sha256, DemoFilm.CaseText(DemoFilm.Molar), CaseDesk.Anna).Value;

        Assert.Null(it.Canals.Single(canal => canal.Name == "P").OffCentre);
    }

    [Fact]
    public void How_far_a_filling_lies_off_centre_goes_into_the_table_where_the_film_shows_its_root_alone()
    {
        var it = Noted("11", _ => { }, new SentFile("before.png", DemoFilm.Before(DemoFilm.Incisor)));

        it = desk.Measuring.Note(it.Id, it.Version, it.Films[0].Sha256, DemoFilm.CaseText(DemoFilm.Incisor), CaseDesk.Anna).Value;

        Assert.NotNull(it.Canals[^1].OffCentre);
    }

    [Fact]
    public void A_branch_drawn_on_a_film_joins_the_branch_that_is_noted_and_what_was_typed_of_it_stays()
    {
        var it = SplitMolar(("dl", "D", CanalLine.Splits, "2,5"));

        it = MeasureSplitMolar(it).Value;

        Assert.Equal(["MB", "ML", "D", "dl"], it.Canals.Select(canal => canal.Name));
        Assert.Equal(("D", 2.5), (it.Canals[3].Parent, it.Canals[3].Meeting!.FromEnd!.Value.Value));
        Assert.NotNull(it.Canals[3].FillingEndToCanalEnd);
    }

    [Fact]
    public void A_branch_that_only_the_film_shows_is_added_below_its_trunk_at_the_level_where_it_was_drawn()
    {
        var it = MeasureSplitMolar(SplitMolar()).Value;

        var branch = it.Canals.Single(canal => canal.Name == "DL");
        Assert.Equal(("D", "D", MeetingPlane.Unknown, false), (branch.Parent, branch.Root, branch.Meeting!.Plane, branch.Meeting.Joins));

        // The marks put the split 200 px of 0.029 mm above the branch's end, by a straight line from mark to mark.
        Assert.InRange(branch.Meeting.FromEnd!.Value.Value, 5.3, 6.3);
    }

    [Theory]
    [InlineData("ML", CanalLine.Splits, "a branch of ML")]
    [InlineData("ML", CanalLine.Joins, "a branch of ML")]
    [InlineData("", "", "a canal of its own")]
    public void A_branch_drawn_from_another_canal_than_the_table_says_is_not_taken(string parent, string meets, string noted)
    {
        var refusal = MeasureSplitMolar(SplitMolar(("DL", parent, meets, parent.Length == 0 ? string.Empty : "3"))).Refusal;

        Assert.Equal("branch_noted_otherwise", refusal.Code);
        Assert.Equal($"DL is drawn as a branch of D; the table of canals has it as {noted}.", refusal.Reason);
        Assert.Equal("Draw it as the table has it, or correct the table of canals first.", refusal.Remedy);
    }

    [Fact]
    public void Marks_of_another_tooth_are_not_taken()
    {
        var it = desk.Open("26");
        it = desk.Canals.Note(it.Id, CanalsForm.Of(it), [new SentFile("before.png", DemoFilm.Before(DemoFilm.Molar))], CaseDesk.Anna).Value;

        Assert.Equal(
            "The marks are of the upper right first molar, 16; the case is the upper left first molar, 26.",
            desk.Measuring.Note(it.Id, it.Version, it.Films[0].Sha256, DemoFilm.CaseText(DemoFilm.Molar), CaseDesk.Anna).Refusal.Reason);
    }

    [Fact]
    public void A_film_belongs_to_a_case_once()
    {
        var it = Noted("16", _ => { }, new SentFile("before.png", DemoFilm.Before(DemoFilm.Incisor)));

        var refusal = desk.Films.Attach(it.Id, it.Version, desk.Films.TakeIn([new SentFile("again.png", DemoFilm.Before(DemoFilm.Incisor))]).Value, new FilmTaken(FilmMoment.After, TubeShift.Mesial), Confirmation.None, CaseDesk.Anna).Refusal;

        Assert.Equal("“again.png” belongs to this case already.", refusal.Reason);
    }

    private DentalCase Length(DentalCase it, string length) => desk.Lengths.Note(
        it.Id,
        new LengthForm { Version = it.Version, Canal = "MB1", Reference = "mesiobuccal cusp", To = LengthEnd.Foramen, Length = length, Source = LengthSource.LengthMeter },
        CaseDesk.Anna).Value;

    private DentalCase Noted(string tooth, Action<CanalsForm> type, params SentFile[] films)
    {
        var it = desk.Open(tooth);
        var form = CanalsForm.Of(it);
        type(form);
        form.AddWhatWasAsked(it);
        return desk.Canals.Note(it.Id, form, films, CaseDesk.Anna).Value;
    }

    private DentalCase SplitMolar(params (string Name, string Parent, string Meets, string FromEnd)[] branches)
    {
        var it = desk.Open("46");
        var form = CanalsForm.Of(it);
        form.Canals.RemoveAll(canal => canal.Name is not ("MB" or "ML" or "D"));
        form.Canals.AddRange(branches.Select(branch => new CanalLine { Name = branch.Name, Root = "D", Found = true, Parent = branch.Parent, Meets = branch.Meets, MeetsFromEnd = branch.FromEnd }));
        return desk.Canals.Note(it.Id, form, [new SentFile("before.png", DemoFilm.Before(DemoFilm.SplitMolar))], CaseDesk.Anna).Value;
    }

    private Secondpass.Domain.Answer<DentalCase> MeasureSplitMolar(DentalCase it) =>
        desk.Measuring.Note(it.Id, it.Version, it.Films[0].Sha256, DemoFilm.CaseText(DemoFilm.SplitMolar), CaseDesk.Anna);

    private Secondpass.Domain.Refusal Refused(Action<CanalsForm> type)
    {
        var it = desk.Open();
        var form = CanalsForm.Of(it);
        type(form);
        var refusal = desk.Canals.Note(it.Id, form, [], CaseDesk.Anna).Refusal;
        Assert.Empty(desk.Register.Read(it.Id.Value).Value.Canals);
        return refusal;
    }
}
