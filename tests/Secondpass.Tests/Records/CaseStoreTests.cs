using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Chairside;
using Secondpass.Domain.Clinics;
using Secondpass.Domain.Films;
using Secondpass.Domain.Instruments;
using Secondpass.Domain.Quantities;
using Secondpass.Records;
using Secondpass.Records.Events;

namespace Secondpass.Tests.Records;

public sealed class CaseStoreOnSqliteTests() : CaseStoreTests(StoreKind.Sqlite);

public sealed class CaseStoreOnPostgresTests() : CaseStoreTests(StoreKind.Postgres);

public abstract class CaseStoreTests : IDisposable
{
    internal static readonly Author Ann = new("Ann", "workbench");
    private static readonly Author Ben = new("Ben", "surgery 2");

    private readonly StoreUnderTest place;
    private readonly ClinicStore store;

    protected CaseStoreTests(StoreKind kind)
    {
        place = new StoreUnderTest(kind);
        store = place.Open();
    }

    private SetClock Clock => place.Clock;

    public void Dispose()
    {
        store.Dispose();
        place.Dispose();
        GC.SuppressFinalize(this);
    }

    [Fact]
    public void A_case_is_what_was_noted_about_it_in_order()
    {
        var opened = store.Cases.Open(Opened("1042"), Ann).Value;
        store.Cases.Append(opened.Id, 1, Ann, [new HealthAnswered(HealthQuestion.Allergies, new HealthAnswer(true, "latex")), new ToothAssessed(Assessment.Start with { Apical = ApicalDiagnosis.ChronicAbscess })]);
        store.Cases.AppendEntry(opened.Id, new EntryKey("chair", 1), Ben, Step("item 7", 1));

        var read = store.Cases.Read(opened.Id).Value;

        Assert.Equal(4, read.Version);
        Assert.Equal("1042", read.Patient.Number);
        Assert.Equal("upper right first molar", read.Tooth.Words);
        Assert.Equal("latex", read.Health[HealthQuestion.Allergies].Detail);
        Assert.Equal(ApicalDiagnosis.ChronicAbscess, read.Assessment.Apical);
        Assert.Equal(Step("item 7", 1), Assert.Single(read.Chairside));
    }

    [Fact]
    public void A_film_s_scale_from_a_known_length_is_there_after_a_restart_the_last_one_holds_and_it_can_be_taken_back()
    {
        var (one, other) = (new string('a', 64), new string('b', 64));
        var known = new KnownLength(new PixelPoint(120.5, 90), new PixelPoint(140, 790.25), new Millimetres(21), new Millimetres(0.5));
        var id = store.Cases.Open(Opened("1"), Ann).Value.Id;
        store.Cases.Append(id, 1, Ann, [new FilmCalibrated(one, known), new FilmCalibrated(other, known with { Length = new Millimetres(25) })]);
        store.Cases.Append(id, 3, Ben, [new FilmCalibrated(one, known with { Length = new Millimetres(21.5), Within = new Millimetres(0.05) })]);
        using (var again = place.Open())
        {
            var it = again.Cases.Read(id).Value;
            Assert.Equal(known with { Length = new Millimetres(21.5), Within = new Millimetres(0.05) }, it.KnownLengths[one]);
            Assert.Equal(25, it.KnownLengths[other]!.Length.Value);
        }

        store.Cases.Append(id, 4, Ann, [new FilmCalibrationTakenBack(one)]);

        using var third = place.Open();
        Assert.Null(third.Cases.Read(id).Value.KnownLengths[one]);
        Assert.NotNull(third.Cases.Read(id).Value.KnownLengths[other]);
        Assert.Equal([Ann.Who, Ann.Who, Ann.Who, Ben.Who, Ann.Who], third.Cases.History(id).Value.Select(line => line.Who));
    }

    [Fact]
    public void Lists_cases_the_one_changed_last_first()
    {
        var first = store.Cases.Open(Opened("1"), Ann).Value.Id;
        Clock.Now += TimeSpan.FromMinutes(1);
        var second = store.Cases.Open(Opened("2"), Ann).Value.Id;
        Clock.Now += TimeSpan.FromMinutes(1);
        store.Cases.Append(first, 1, Ann, [new ReferralChanged(new Referral("Dr Other", null, "pain", null, false, null))]);

        var lines = store.Cases.List();

        Assert.Equal([first, second], lines.Select(line => line.Id));
        Assert.Equal(new CaseLine(first, "1", "Pat Example", Tooth("16"), "Dr Other", Clock.Now.AddMinutes(-2), Clock.Now, 2), lines[0]);
    }

    [Fact]
    public void Says_who_noted_what_and_when()
    {
        var id = store.Cases.Open(Opened("1"), Ann).Value.Id;
        Clock.Now += TimeSpan.FromMinutes(5);
        store.Cases.AppendEntry(id, new EntryKey("chair", 1), Ben, Step("item 7", 1));

        var history = store.Cases.History(id).Value;

        Assert.Equal([1L, 2L], history.Select(line => line.Version));
        Assert.Equal(["Ann", "Ben"], history.Select(line => line.Who));
        Assert.Equal(["workbench", "chair"], history.Select(line => line.Device));
        Assert.Equal(Clock.Now, history[1].At);
        Assert.IsType<CaseOpened>(history[0].Event);
    }

    [Fact]
    public void When_two_edit_at_once_the_second_is_told_who_was_first_and_when_and_nothing_is_written()
    {
        var id = store.Cases.Open(Opened("1"), Ann).Value.Id;
        Clock.Now = new DateTimeOffset(2026, 3, 4, 10, 15, 0, TimeSpan.Zero);
        store.Cases.Append(id, 1, Ben, [new CanalsNoted([])]);
        Clock.Now += TimeSpan.FromMinutes(5);

        var refusal = store.Cases.Append(id, 1, Ann, [new ToothAssessed(Assessment.Start)]).Refusal;

        Assert.Equal("case_changed", refusal.Code);
        Assert.Equal("Ben changed this case meanwhile, on 2026-03-04 at 11:15 on the device “surgery 2”. Nothing of yours was stored.", refusal.Reason);
        Assert.Equal("Look at what changed, then make your change anew if it is still right.", refusal.Remedy);
        Assert.Equal(2, store.Cases.Read(id).Value.Version);
    }

    [Fact]
    public void An_entry_from_the_chair_stands_in_nobody_s_way()
    {
        var id = store.Cases.Open(Opened("1"), Ann).Value.Id;
        store.Cases.AppendEntry(id, new EntryKey("chair", 1), Ben, Step("item 7", 1));

        Assert.Equal(3, store.Cases.Append(id, 1, Ann, [new CanalsNoted([])]).Value.Version);
    }

    [Fact]
    public void An_entry_sent_twice_is_stored_once()
    {
        var id = store.Cases.Open(Opened("1"), Ann).Value.Id;
        var key = new EntryKey("chair", 1);

        Assert.Equal(2, store.Cases.AppendEntry(id, key, Ben, Step("item 7", 1)).Value.Version);
        Assert.Equal(2, store.Cases.AppendEntry(id, key, Ben, Step("item 7", 1)).Value.Version);
        Assert.Equal(2, store.Check().Value.Events);
    }

    [Fact]
    public void Another_entry_under_a_number_already_used_is_refused_and_not_lost_silently()
    {
        var id = store.Cases.Open(Opened("1"), Ann).Value.Id;
        store.Cases.AppendEntry(id, new EntryKey("chair", 1), Ben, Step("item 7", 1));

        var refusal = store.Cases.AppendEntry(id, new EntryKey("chair", 1), Ben, Step("item 8", 1)).Refusal;

        Assert.Equal("entry_number_taken", refusal.Code);
        Assert.Equal("The device “chair” already sent another entry under its number 1; this one was not stored.", refusal.Reason);
        Assert.Equal("Note the entry again.", refusal.Remedy);
    }

    [Fact]
    public void The_numbers_of_entries_never_meet_those_of_edits_on_the_same_device()
    {
        var id = store.Cases.Open(Opened("1"), Ann).Value.Id;
        store.Cases.Append(id, 1, Ann, [new CanalsNoted([])]);

        Assert.Equal(3, store.Cases.AppendEntry(id, new EntryKey("workbench", 2), Ann, Step("item 7", 1)).Value.Version);
    }

    [Fact]
    public async Task Of_many_who_change_a_version_at_once_exactly_one_does()
    {
        using var second = place.Open();
        var id = store.Cases.Open(Opened("1"), Ann).Value.Id;

        var answers = await Task.WhenAll(Enumerable.Range(0, 12).Select(writer => Task.Run(() =>
            (writer % 2 == 0 ? store : second).Cases.Append(id, 1, Ann with { Who = $"writer {writer}" }, [new CanalsNoted([]), new ToothAssessed(Assessment.Start)]))));

        var won = Assert.Single(answers.Index(), answer => answer.Item.IsGiven).Index;
        Assert.All(answers.Where(answer => !answer.IsGiven), answer => Assert.StartsWith($"writer {won} changed this case meanwhile, on ", answer.Refusal.Reason, StringComparison.Ordinal));
        Assert.Equal(3, store.Cases.Read(id).Value.Version);
    }

    [Fact]
    public async Task Entries_sent_by_several_at_once_and_again_are_each_stored_once()
    {
        using var second = place.Open();
        var id = store.Cases.Open(Opened("1"), Ann).Value.Id;

        var answers = await Task.WhenAll(Enumerable.Range(0, 24).Select(sent => Task.Run(() =>
            (sent % 2 == 0 ? store : second).Cases.AppendEntry(id, new EntryKey("chair", 1 + (sent % 8)), Ben, Step("item 7", 1 + (sent % 8))))));

        Assert.All(answers, answer => Assert.True(answer.IsGiven));
        Assert.Equal(Enumerable.Range(1, 8), store.Cases.Read(id).Value.Chairside.Select(entry => entry.Visit).Order());
        Assert.Equal(new ChainReport(9, 1, null), store.Check().Value);
        Assert.Equal(8, store.Cases.Uses("item 7", UseCount.PerToothAndVisit));
    }

    [Fact]
    public void A_corrected_step_doesn_t_count_as_a_use_and_what_holds_instead_does()
    {
        var id = store.Cases.Open(Opened("1"), Ann).Value.Id;
        var at = new DateTimeOffset(2026, 3, 4, 9, 40, 0, TimeSpan.Zero);
        store.Cases.AppendEntry(id, new EntryKey("chair", 1), Ben, Step("item 7", 1));
        store.Cases.AppendEntry(id, new EntryKey("chair", 2), Ben, Step("item 9", 1));
        store.Cases.AppendEntry(id, new EntryKey("chair", 3), Ben, new EntryCorrected(1, at, 1, "another file", Step("item 8", 1)));
        Assert.Equal((0, 1, 1), (store.Cases.Uses("item 7", UseCount.PerToothAndVisit), store.Cases.Uses("item 8", UseCount.PerToothAndVisit), store.Cases.Uses("item 9", UseCount.PerToothAndVisit)));

        store.Cases.AppendEntry(id, new EntryKey("chair", 4), Ben, new EntryCorrected(1, at, 1, "not used at all", null));
        store.Cases.AppendEntry(id, new EntryKey("chair", 5), Ben, new EntryCorrected(1, at, 2, "not used at all", null));
        Assert.Equal((0, 0, 0), (store.Cases.Uses("item 7", UseCount.PerToothAndVisit), store.Cases.Uses("item 8", UseCount.PerToothAndVisit), store.Cases.Uses("item 9", UseCount.PerToothAndVisit)));
    }

    [Fact]
    public void A_case_is_opened_with_everything_that_came_with_it()
    {
        var opened = store.Cases.Open(Opened("1"), Ann, new HealthAnswered(HealthQuestion.Allergies, new HealthAnswer(false, null)), new CanalsNoted([])).Value;

        Assert.Equal(3, opened.Version);
        Assert.Equal(3, store.Cases.Read(opened.Id).Value.Version);
        Assert.False(opened.Health[HealthQuestion.Allergies].Yes);
    }

    [Fact]
    public void A_case_whose_line_is_damaged_stays_in_the_list()
    {
        var id = store.Cases.Open(Opened("1"), Ann).Value.Id;
        place.Execute("UPDATE case_lines SET summary = x'00'");

        var line = Assert.Single(store.Cases.List());

        Assert.Equal(id, line.Id);
        Assert.Equal("(can't be read)", line.PatientNumber);
        store.Rebuild();
        Assert.Equal("1", Assert.Single(store.Cases.List()).PatientNumber);
    }

    [Fact]
    public void Files_of_a_case_are_never_removed_as_undecided_and_others_are()
    {
        var film = store.KeepFilm("film"u8).Value;
        var paper = store.Cases.KeepFile("paper"u8).Value;
        var loose = store.Cases.KeepFile("loose"u8).Value;
        store.Cases.Open(
            Opened("1"),
            Ann,
            new FilmAttached(new CaseFilm(film, FilmMoment.Before, TubeShift.Straight, null)),
            new PaperAttached(new AttachedFile(paper, "letter.pdf", "application/pdf")));
        Clock.Now += TimeSpan.FromDays(2);

        store.RemoveUndecidedFilms();

        Assert.True(store.ReadFilm(film).IsGiven);
        Assert.False(store.ThrowAwayFilm(film));
        Assert.True(store.Cases.ReadFile(paper).IsGiven);
        Assert.False(store.Cases.ReadFile(loose).IsGiven);
    }

    [Fact]
    public void Says_that_there_is_no_such_case()
    {
        var nothing = new CaseId("0123");

        Assert.Equal("There is no case “0123” here.", store.Cases.Read(nothing).Refusal.Reason);
        Assert.Equal("no_such_case", store.Cases.Append(nothing, 1, Ann, []).Refusal.Code);
        Assert.Equal("no_such_case", store.Cases.AppendEntry(nothing, new EntryKey("chair", 1), Ann, Step(null, 1)).Refusal.Code);
        Assert.Equal("Choose it from the list of cases.", store.Cases.History(nothing).Refusal.Remedy);
    }

    [Fact]
    public void Counts_the_uses_of_an_instrument_by_tooth_and_visit()
    {
        var one = store.Cases.Open(Opened("1"), Ann).Value.Id;
        var other = store.Cases.Open(Opened("2"), Ann).Value.Id;
        store.Cases.AppendEntry(one, new EntryKey("chair", 1), Ben, Step("item 7", 1));
        store.Cases.AppendEntry(one, new EntryKey("chair", 2), Ben, Step("item 7", 1) with { Canal = "MB2" });
        store.Cases.AppendEntry(one, new EntryKey("chair", 3), Ben, Step("item 7", 2));
        store.Cases.AppendEntry(other, new EntryKey("chair", 4), Ben, Step("item 7", 1));
        store.Cases.AppendEntry(other, new EntryKey("chair", 5), Ben, Step("item 8", 1));
        store.Cases.AppendEntry(other, new EntryKey("chair", 6), Ben, Step(null, 1));

        Assert.Equal(3, store.Cases.Uses("item 7", UseCount.PerToothAndVisit));
        Assert.Equal(1, store.Cases.Uses("item 8", UseCount.PerToothAndVisit));
        Assert.Equal(0, store.Cases.Uses("item 9", UseCount.PerToothAndVisit));
    }

    [Fact]
    public void Counts_the_uses_of_an_instrument_by_canal_where_the_clinic_does()
    {
        var one = store.Cases.Open(Opened("1"), Ann).Value.Id;
        var other = store.Cases.Open(Opened("2"), Ann).Value.Id;
        var at = new DateTimeOffset(2026, 3, 4, 9, 40, 0, TimeSpan.Zero);
        Note(one, Step("item 7", 1));
        Note(one, Step("item 7", 1) with { Canal = "MB2" });
        Note(one, Step("item 7", 1) with { Canal = "MB2" });
        Note(one, Step("item 7", 2));
        Note(other, Step("item 7", 1));
        Assert.Equal((4, 3, 3), (Uses(UseCount.PerCanal), Uses(UseCount.PerToothAndVisit), Uses(UseCount.SingleUse)));

        // Two steps in MB2 were noted in the wrong canal: one belongs to DB.
        Note(one, new EntryCorrected(1, at, 3, "it was DB", Step("item 7", 1) with { Canal = "DB" }));
        Assert.Equal(5, Uses(UseCount.PerCanal));
        Note(one, new EntryCorrected(1, at, 2, "not used at all", null));
        Assert.Equal(4, Uses(UseCount.PerCanal));

        int Uses(UseCount count) => store.Cases.Uses("item 7", count);

        void Note(CaseId id, ChairsideEntry entry)
        {
            Clock.Now += TimeSpan.FromMinutes(1);
            Assert.True(store.Cases.AppendEntry(id, new EntryKey("chair", Clock.Now.UtcTicks), Ben, entry).IsGiven);
        }
    }

    [Fact]
    public void Keeps_papers_untouched()
    {
        var sha256 = store.Cases.KeepFile("a letter"u8).Value;

        Assert.Equal("a letter"u8.ToArray(), store.Cases.ReadFile(sha256).Value);
    }

    [Fact]
    public void The_clinic_is_what_was_noted_about_it_and_an_older_version_of_it_is_refused()
    {
        var details = new ClinicDetails("Invented Practice", ["1 Example Lane"], "Dr Ann Example", null, null);
        Assert.Equal(0, store.Clinic.Read().Version);
        Assert.Equal(1, store.Clinic.Append(0, Ann, [new ClinicNamed(details)]).Value.Version);

        var refusal = store.Clinic.Append(0, Ben, [new ClinicNamed(details with { Name = "Other" })]).Refusal;

        Assert.Equal("clinic_changed", refusal.Code);
        Assert.Equal("The clinic's details, instruments or sequences were changed meanwhile. Nothing of yours was stored.", refusal.Reason);
        Assert.Equal("Invented Practice", store.Clinic.Read().Details!.Name);
    }

    internal static CaseOpened Opened(string number) => new(
        new Patient(number, "Pat Example"),
        Tooth("16"),
        new Referral("Dr Sender", "1 Example Lane", "pain on biting", null, Urgent: false, null));

    private static ToothNumber Tooth(string text) => ToothNumber.Parse(text).Value;

    internal static StepDone Step(string? item, int visit) => new(
        visit,
        new DateTimeOffset(2026, 3, 4, 9, 31, 0, TimeSpan.Zero),
        "MB1",
        "retreatment rotary 30/.06",
        "retreatment-30-06",
        item,
        new LengthReading(new ReferencePoint("mesiobuccal cusp", 1), LengthEnd.FileStop, new Millimetres(18.5), LengthSource.InstrumentStop),
        null);
}
