using Secondpass.Domain.Cases;
using Secondpass.Domain.Chairside;
using Secondpass.Job.Cases;
using Secondpass.Job.Demo;
using Secondpass.Records;
using Secondpass.Tests.Job.Cases;
using Secondpass.Tests.Records;
using UglyToad.PdfPig;

namespace Secondpass.Tests.Job.Demo;

/// <summary>The invented clinic, played once for all tests here.</summary>
public sealed class PlayedClinic : IDisposable
{
    private readonly StoreUnderTest place = new(StoreKind.Sqlite);

    public PlayedClinic()
    {
        Opened = Play();
        Store = place.Open();
    }

    public int Opened { get; }

    public ClinicStore Store { get; }

    public DateTimeOffset Now => place.Clock.GetUtcNow();

    public int Play() => OpenDemoClinic.Play(Repository.At("demo", "clinic"), place.Folder, place.Clock).Value;

    public DentalCase Of(string patientNumber) => Store.Cases.Read(Store.Cases.List().Single(line => line.PatientNumber == patientNumber).Id).Value;

    public void Dispose()
    {
        Store.Dispose();
        place.Dispose();
    }
}

public sealed class OpenDemoClinicTests(PlayedClinic clinic) : IClassFixture<PlayedClinic>
{
    [Fact]
    public void Every_story_is_played_and_every_next_step_stands_in_the_list()
    {
        Assert.Equal(Directory.GetDirectories(Repository.At("demo", "clinic")).Length, clinic.Opened);
        var next = clinic.Store.Cases.List().Select(line => clinic.Store.Cases.Read(line.Id).Value.NextStep()).ToHashSet();
        Assert.Equal([null, .. Enum.GetValues<CaseStep>().Where(step => step != CaseStep.Referral)], next.Order());
    }

    [Fact]
    public void Nothing_in_it_lies_in_the_future_or_longer_ago_than_a_month()
    {
        foreach (var line in clinic.Store.Cases.List())
        {
            var history = clinic.Store.Cases.History(line.Id).Value;
            Assert.All(history, one => Assert.InRange(one.At, clinic.Now.AddDays(-31), clinic.Now));
            Assert.Equal(history.Select(one => one.At).Order(), history.Select(one => one.At));
        }
    }

    [Fact]
    public void Nobody_in_it_can_be_taken_for_a_person()
    {
        Assert.All(clinic.Store.Cases.List(), line =>
        {
            Assert.StartsWith("D-", line.PatientNumber, StringComparison.Ordinal);
            Assert.True(line.PatientName is null || line.PatientName.Contains("Invented", StringComparison.Ordinal));
            Assert.StartsWith("Dr Example", line.Referrer, StringComparison.Ordinal);
        });
        Assert.Equal("The Invented Clinic", clinic.Store.Clinic.Read().Details!.Name);
    }

    [Fact]
    public void A_straight_canal_is_straight_and_planned()
    {
        var it = clinic.Of("D-101");
        Assert.Equal("21", it.Tooth.ToString());
        Assert.Equal(CanalFilling.Filled, Assert.Single(it.Canals).Filling);
        Assert.NotEmpty(it.Plan!.Steps);
    }

    [Fact]
    public void An_upper_first_molar_is_treated_again_at_its_mesiobuccal_root_alone_where_a_second_canal_was_missed()
    {
        var it = clinic.Of("D-102");
        Assert.Equal("16", it.Tooth.ToString());
        Assert.Equal(["DB", "P"], RootState.LeftAlone(it).Select(root => root.Root));
        var missed = it.Canals.Single(canal => canal.Name == "MB2");
        Assert.Equal((false, CanalFilling.Unfilled, CanalIntent.LookFor), (missed.Found, missed.Filling, missed.Intent));
        Assert.Contains("MB2", it.ConeBeam!.CanalNames);
        Assert.Equal(MeetingPlane.Buccolingual, it.ConeBeam.Meetings["MB2"].Plane);
        Assert.NotEmpty(it.ConeBeam.Walls);
    }

    [Fact]
    public void A_lower_second_molar_has_a_distal_root_that_splits_mesiodistally_in_its_apical_third_and_one_branch_is_blocked()
    {
        var it = clinic.Of("D-103");
        Assert.Equal("47", it.Tooth.ToString());
        var branch = it.Canals.Single(canal => canal.Parent == "D");
        Assert.Equal("D", branch.Root);
        Assert.Equal((false, MeetingPlane.Mesiodistal), (branch.Meeting!.Joins, branch.Meeting.Plane));
        Assert.Equal([Obstacle.Blockage], branch.Obstacles);
        Assert.Contains(it.Plan!.Steps, step => step.Branch == branch.Name);
        Assert.Contains(it.Chairside.OfType<EventHappened>(), happened => happened.Canal == branch.Name && happened.ToldTo is not null);

        // The apical third of a root of 11 mm: what the film shows lies within it.
        Assert.InRange(branch.Meeting.FromEnd!.Value.Value, 0, 11 / 3.0);
    }

    [Fact]
    public void Where_the_film_shows_both_fillings_of_a_split_as_one_no_width_of_both_stands_in_the_plan()
    {
        var plan = clinic.Of("D-103").Plan!;
        Assert.Equal(21, plan.Steps.Count);
        foreach (var branch in new[] { "D", "D2" })
        {
            var cuts = plan.Steps.Last(step => step.Branch == branch && step.Cuts.Count > 0).Cuts;

            // The trunk is 0.6 mm wide where it splits, a simulated canal at least 0.3 mm at its end; side by side the two of them reach
            // 1.2 mm. A width read on a film errs by up to 0.08 mm (95th percentile, docs/models/measurement.md).
            Assert.All(cuts.Where(cut => cut.FromEnd.Value <= 3), cut => Assert.InRange(cut.Before.Value, 0.3 - 0.08, 0.7));
            Assert.Contains(plan.Assumptions, said => said.StartsWith($"{branch}: from ", StringComparison.Ordinal) && said.Contains("as one", StringComparison.Ordinal));
        }

        // Two millimetres of filling, 0.25 to 0.75 mm wide, hold 0.10 to 0.88 mm³.
        Assert.All(plan.Steps.Where(step => step is { Branch: "D2", Volumes: not null }), step => Assert.InRange(step.Volumes!.FillingBeforeCubicMillimetres, 0.10, 0.88));
    }

    [Fact]
    public void A_filling_lies_beyond_the_apex()
    {
        var canal = Assert.Single(clinic.Of("D-104").Canals);
        Assert.Equal(CanalFilling.BeyondEnd, canal.Filling);
        Assert.InRange(canal.FillingEndToCanalEnd!.Value.Value, -1.6, -0.9);
    }

    [Fact]
    public void A_filling_is_short_and_a_ledge_stands_below_it()
    {
        var canal = Assert.Single(clinic.Of("D-105").Canals);
        Assert.Equal((CanalFilling.ShortOfEnd, Obstacle.Ledge), (canal.Filling, Assert.Single(canal.Obstacles)));
        Assert.InRange(canal.FillingEndToCanalEnd!.Value.Value, 3, 4.2);
    }

    [Fact]
    public void A_silver_point_is_planned_and_taken_out_without_ultrasonics()
    {
        var it = clinic.Of("D-106");
        Assert.Equal(OldFilling.SilverPoint, it.Assessment.Previous.Filling);
        Assert.DoesNotContain(it.Chairside.OfType<StepDone>(), step => step.Instrument.Contains("ultrasonic", StringComparison.OrdinalIgnoreCase));
        Assert.Equal(CaseStep.Letter, it.NextStep());
    }

    [Fact]
    public void A_filling_on_a_carrier_is_out_and_the_visit_is_over()
    {
        var it = clinic.Of("D-107");
        Assert.Equal(OldFilling.CarrierBased, it.Assessment.Previous.Filling);
        Assert.Equal(CaseStep.Finish, it.NextStep());
        Assert.NotNull(VisitMinutes.Of(it.Chairside, 1)[VisitPhase.Removal].ElapsedMinutes);
    }

    [Fact]
    public void A_finished_case_has_its_comparison_and_its_letters_whose_numbers_are_those_that_were_stored()
    {
        var it = clinic.Of("D-108");
        Assert.Null(it.NextStep());
        Assert.Single(it.Comparisons);
        Assert.Equal(["reply", "patient"], it.Letters.Select(letter => letter.Kind));
        Assert.All(it.Letters, letter => Assert.StartsWith("PK", System.Text.Encoding.ASCII.GetString(clinic.Store.Cases.ReadFile(letter.DocxSha256!).Value, 0, 2), StringComparison.Ordinal));

        using var pdf = PdfDocument.Open(clinic.Store.Cases.ReadFile(it.Letters[0].PdfSha256).Value);
        var text = string.Join(' ', pdf.GetPages().SelectMany(page => page.GetWords()).Select(word => word.Text));
        var canal = Assert.Single(it.Finishes[1].Canals);
        var minutes = VisitMinutes.Of(it.Chairside, 1)[VisitPhase.Removal].ElapsedMinutes!.Value;
        Assert.Equal(7, minutes);
        foreach (var words in new[]
        {
            it.Tooth.Words,
            it.Referral.Referrer!,
            canal.WorkingLength!.Value.Value.ToString("0.0", CultureInfo.InvariantCulture) + " mm",
            canal.MasterApicalFile!,
            minutes.ToString("0", CultureInfo.InvariantCulture) + " min",
            it.Finishes[1].RestorationUntil!.Value.ToString("d MMMM yyyy", CultureInfo.InvariantCulture),
        })
        {
            Assert.Contains(words, text, StringComparison.OrdinalIgnoreCase);
        }

        Assert.True(pdf.GetPages().Sum(page => page.GetImages().Count()) >= 2, "The films before and after stand in the letter.");
    }

    [Fact]
    public void Playing_again_adds_nothing()
    {
        var before = clinic.Store.Cases.List();
        Assert.Equal(0, clinic.Play());
        Assert.Equal(before.Select(line => (line.Id, line.Version)), clinic.Store.Cases.List().Select(line => (line.Id, line.Version)));
    }

    [Fact]
    public void A_store_that_holds_a_case_is_never_touched()
    {
        using var desk = new StoreUnderTest(StoreKind.Sqlite);
        using (var store = desk.Open())
        {
            _ = new OpenCase(store, new ReceivePaper(store), new ClinicHabits(store)).Open(CaseDesk.Referral(), null, CaseDesk.Anna).Value;
        }

        Assert.False(OpenDemoClinic.Play(Repository.At("demo", "clinic"), desk.Folder, desk.Clock).TryGet(out _, out var refusal));
        Assert.Equal("The store holds 1 case that is not the invented clinic's: the invented cases never stand among patients, so none was added.", refusal.Reason);
        Assert.Equal("Start with --demo alone, which keeps them in a data folder of their own; or name an empty folder or database.", refusal.Remedy);
        using var after = desk.Open();
        Assert.Equal("4711", Assert.Single(after.Cases.List()).PatientNumber);
        Assert.Equal(0, after.Clinic.Read().Version);
    }

    [Fact]
    public void It_can_be_played_on_PostgreSQL_and_its_chain_and_files_hold()
    {
        using var group = new StoreUnderTest(StoreKind.Postgres);
        Assert.Equal(clinic.Opened, OpenDemoClinic.Play(Repository.At("demo", "clinic"), group.Folder, group.Clock, group.Address).Value);
        using var store = group.Open();
        Assert.Equal(
            clinic.Store.Cases.List().Select(line => (line.PatientNumber, line.Version)).Order(),
            store.Cases.List().Select(line => (line.PatientNumber, line.Version)).Order());
        Assert.Empty(store.CheckFiles().Damaged);
        Assert.Empty(store.CheckFiles().Missing);
    }

    [Fact]
    public void No_two_steps_of_a_case_stand_at_one_time_so_that_one_broken_off_is_known_by_its_times()
    {
        foreach (var line in clinic.Store.Cases.List())
        {
            // What one form notes stands at one time; each step notes something.
            var times = clinic.Store.Cases.History(line.Id).Value.Select(one => one.At).Distinct().Count();
            var story = Directory.GetFiles(Repository.At("demo", "clinic"), "story.json", SearchOption.AllDirectories)
                .Select(file => System.Text.Json.JsonDocument.Parse(File.ReadAllBytes(file)).RootElement.GetProperty("steps"))
                .Single(steps => steps[0].GetProperty("referral").GetProperty("patient_number").GetString() == line.PatientNumber);
            Assert.Equal(story.GetArrayLength(), times);
        }
    }

    [Fact]
    public void Its_chain_and_files_hold()
    {
        Assert.Null(clinic.Store.Check().Value.FirstBroken);
        Assert.Empty(clinic.Store.CheckFiles().Damaged);
        Assert.Empty(clinic.Store.CheckFiles().Missing);
    }
}
