using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Chairside;
using Secondpass.Domain.Clinics;
using Secondpass.Domain.Instruments;
using Secondpass.Domain.Quantities;
using Secondpass.Job.Chairside;
using Secondpass.Records.Events;

namespace Secondpass.Tests.Job.Chairside;

public sealed class LogChairsideTests : IDisposable
{
    private readonly ChairsideStore given = new();
    private readonly LogChairside log;

    public LogChairsideTests() => log = new LogChairside(given.Store, given.Clock);

    public void Dispose() => given.Dispose();

    [Fact]
    public void Two_taps_of_one_finger_count_once()
    {
        var form = new MarkForm { Key = 7, Visit = 1, Mark = ChairsideMark.RemovalStart, Canal = "MB1" };
        Mark(form);
        given.Clock.Now += TimeSpan.FromMilliseconds(300);

        Assert.True(log.Mark(given.Id, form, given.By).IsGiven);

        Assert.Equal(new MomentMarked(1, given.Clock.Now.AddMilliseconds(-300), ChairsideMark.RemovalStart, "MB1"), Assert.Single(given.Case.Chairside));
    }

    [Fact]
    public void An_event_and_a_correction_that_arrive_twice_count_once_too()
    {
        var happened = new EventForm { Key = 1, Visit = 1, Canal = "DB", Event = ProceduralEvent.Ledge, ToldTo = "the patient" };
        Assert.True(log.Happened(given.Id, happened, given.By).IsGiven);
        given.Clock.Now += TimeSpan.FromMilliseconds(300);
        Assert.True(log.Happened(given.Id, happened, given.By).IsGiven);
        var told = new CorrectionForm { Key = 2, Visit = 1, Entry = 1, ToldTo = "the referrer" };
        Assert.True(log.Correct(given.Id, told, given.By).IsGiven);
        given.Clock.Now += TimeSpan.FromMilliseconds(300);
        Assert.True(log.Correct(given.Id, told, given.By).IsGiven);

        Assert.Equal(2, given.Case.Chairside.Count);
    }

    [Fact]
    public void A_step_of_taking_the_tooth_apart_is_ticked_off_by_one_tap_and_two_taps_count_once()
    {
        var form = new TakeDownForm { Key = 3, Visit = 1, What = "Loosen and take out the cast post." };
        Assert.True(log.TakeDown(given.Id, form, given.By).IsGiven);
        given.Clock.Now += TimeSpan.FromMilliseconds(300);
        Assert.True(log.TakeDown(given.Id, form, given.By).IsGiven);

        Assert.Equal("Loosen and take out the cast post.", Assert.IsType<TakenDown>(Assert.Single(given.Case.Chairside)).What);
        Assert.Equal("It is not said what was taken off or out.", log.TakeDown(given.Id, new TakeDownForm { Key = 4, Visit = 1 }, given.By).Refusal.Reason);
    }

    [Fact]
    public void A_form_that_says_neither_seen_nor_clean_notes_nothing()
    {
        var refusal = log.Seen(given.Id, new SeenForm { Key = 1, Visit = 1, Canal = "MB1", Level = "15" }, given.By).Refusal;

        Assert.Equal(("It is not said whether filling was seen.", "Tap “Filling seen” or “Seen clean”."), (refusal.Reason, refusal.Remedy));
        Assert.Empty(given.Case.Chairside);
    }

    [Fact]
    public void Another_entry_under_a_number_that_was_used_is_refused()
    {
        Mark(new MarkForm { Key = 7, Visit = 1, Mark = ChairsideMark.Access });

        Assert.Equal("entry_number_taken", log.Mark(given.Id, new MarkForm { Key = 7, Visit = 1, Mark = ChairsideMark.Left }, given.By).Refusal.Code);
    }

    [Fact]
    public void A_mark_that_was_forgotten_is_noted_with_the_time_on_the_clinic_s_wall()
    {
        Mark(new MarkForm { Key = 1, Visit = 1, Mark = ChairsideMark.Access, Time = "09:45" });

        Assert.Equal(new DateTimeOffset(2026, 3, 4, 8, 45, 0, TimeSpan.Zero), Assert.Single(given.Case.Chairside).At);
    }

    [Theory]
    [InlineData("10:31", "10:31 has not come yet.", "Enter when it was.")]
    [InlineData("25:00", "“25:00” is not a time of day.", "Enter hours and minutes, such as 09:45.")]
    [InlineData("half past", "“half past” is not a time of day.", "Enter hours and minutes, such as 09:45.")]
    public void A_time_that_can_not_be_is_refused(string time, string reason, string remedy)
    {
        var refusal = log.Mark(given.Id, new MarkForm { Key = 1, Visit = 1, Mark = ChairsideMark.Access, Time = time }, given.By).Refusal;

        Assert.Equal((reason, remedy), (refusal.Reason, refusal.Remedy));
        Assert.Empty(given.Case.Chairside);
    }

    [Theory]
    [InlineData("17,5")]
    [InlineData("17.5")]
    public void A_depth_is_stored_as_it_was_read(string depth)
    {
        Assert.True(log.Step(given.Id, new StepForm { Key = 1, Visit = 1, Canal = "MB1", Instrument = "hand file 10", Depth = depth, Reference = "mesiobuccal cusp", To = LengthEnd.Foramen, Source = LengthSource.LengthMeter }, given.By).IsGiven);

        var step = Assert.IsType<StepDone>(Assert.Single(given.Case.Chairside));
        Assert.Equal(new LengthReading(new ReferencePoint("mesiobuccal cusp", 1), LengthEnd.Foramen, new Millimetres(17.5), LengthSource.LengthMeter), step.Depth);
    }

    [Fact]
    public void A_depth_read_from_a_cusp_that_was_reduced_says_so()
    {
        var reduced = new LengthReading(new ReferencePoint("mesiobuccal cusp", 2), LengthEnd.WorkingLength, new Millimetres(18), LengthSource.LengthMeter);
        given.Note(new CanalsNoted([InventedCanal() with { Lengths = [reduced] }]));

        Assert.True(log.Step(given.Id, new StepForm { Key = 1, Visit = 1, Canal = "MB1", Instrument = "hand file 10", Depth = "17", Reference = "Mesiobuccal cusp" }, given.By).IsGiven);

        Assert.Equal(2, Assert.IsType<StepDone>(Assert.Single(given.Case.Chairside)).Depth!.From.Version);
    }

    [Theory]
    [InlineData("MB1", "hand file 10", "17", null, "17 mm is given, and not from where it was read.", "Name the reference point, such as “mesiobuccal cusp”.")]
    [InlineData("MB1", "hand file 10", "99", "cusp", "The depth: 99 mm can't be.", "Enter 0 to 40 mm, or leave it empty.")]
    [InlineData("MB1", " ", null, null, "It is not said with which instrument.", "Choose it, or say it by size, taper and kind.")]
    [InlineData(null, "hand file 10", null, null, "It is not said in which canal.", "Choose the canal first; canals are noted on the page “Canals”.")]
    public void A_step_that_says_too_little_is_refused(string? canal, string instrument, string? depth, string? reference, string reason, string remedy)
    {
        var refusal = log.Step(given.Id, new StepForm { Key = 1, Visit = 1, Canal = canal, Instrument = instrument, Depth = depth, Reference = reference }, given.By).Refusal;

        Assert.Equal((reason, remedy), (refusal.Reason, refusal.Remedy));
    }

    [Fact]
    public void A_step_counts_as_a_use_of_the_very_instrument_once_a_visit()
    {
        var kind = given.Store.Clinic.Read().Kinds.First(known => known.UsesPermitted is not null);
        _ = given.Store.Clinic.Append(given.Store.Clinic.Read().Version, new Author("Ann", "desk"), [new ItemAdded("i1", kind.Code, "kit A, 3", 2)]).Value;
        Assert.Equal($"kit A, 3: use 3 of {kind.UsesPermitted}", Assert.Single(log.Items(kind.Code, given.Case, 1, "MB1")).Words);

        foreach (var key in new[] { 1, 2 })
        {
            Assert.True(log.Step(given.Id, new StepForm { Key = key, Visit = 1, Canal = "MB1", Instrument = kind.Name, ItemId = "i1" }, given.By).IsGiven);
        }

        Assert.All(given.Case.Chairside, entry => Assert.Equal((kind.Code, "i1"), (((StepDone)entry).KindCode, ((StepDone)entry).ItemId)));
        Assert.Equal($"kit A, 3: use 3 of {kind.UsesPermitted}", Assert.Single(log.Items(kind.Code, given.Case, 1, "MB1")).Words);
        Assert.Equal($"kit A, 3: use 4 of {kind.UsesPermitted}", Assert.Single(log.Items(kind.Code, given.Case, 2, "MB1")).Words);
    }

    [Fact]
    public void Where_uses_are_counted_per_canal_the_next_canal_of_the_visit_is_the_next_use()
    {
        var kind = given.Store.Clinic.Read().Kinds.First(known => known.UsesPermitted is not null);
        _ = given.Store.Clinic.Append(given.Store.Clinic.Read().Version, new Author("Ann", "desk"), [new ItemAdded("i1", kind.Code, "kit A, 3", 2), new UseCountChosen(UseCount.PerCanal)]).Value;
        Assert.True(log.Step(given.Id, new StepForm { Key = 1, Visit = 1, Canal = "MB1", Instrument = kind.Name, ItemId = "i1" }, given.By).IsGiven);

        Assert.Equal($"kit A, 3: use 3 of {kind.UsesPermitted}", Assert.Single(log.Items(kind.Code, given.Case, 1, "MB1")).Words);
        Assert.Equal($"kit A, 3: use 4 of {kind.UsesPermitted}", Assert.Single(log.Items(kind.Code, given.Case, 1, "MB2")).Words);
    }

    [Fact]
    public void Under_a_rule_of_single_use_a_file_is_used_once_and_is_still_offered_afterwards()
    {
        var kind = given.Store.Clinic.Read().Kinds.First(known => known.UsesPermitted is not null);
        _ = given.Store.Clinic.Append(given.Store.Clinic.Read().Version, new Author("Ann", "desk"), [new ItemAdded("i1", kind.Code, "kit A, 3", 0), new UseCountChosen(UseCount.SingleUse)]).Value;
        Assert.Equal("kit A, 3: use 1 of 1", Assert.Single(log.Items(kind.Code, given.Case, 1, "MB1")).Words);

        Assert.True(log.Step(given.Id, new StepForm { Key = 1, Visit = 1, Canal = "MB1", Instrument = kind.Name, ItemId = "i1" }, given.By).IsGiven);

        Assert.Equal("kit A, 3: use 1 of 1", Assert.Single(log.Items(kind.Code, given.Case, 1, "MB2")).Words);
        Assert.Equal("kit A, 3: use 2 of 1", Assert.Single(log.Items(kind.Code, given.Case, 2, "MB1")).Words);
    }

    [Fact]
    public void A_step_that_was_taken_back_is_not_in_use_any_more()
    {
        var kind = given.Store.Clinic.Read().Kinds.First(known => known.UsesPermitted is not null);
        _ = given.Store.Clinic.Append(given.Store.Clinic.Read().Version, new Author("Ann", "desk"), [new ItemAdded("i1", kind.Code, "kit A, 3", 2)]).Value;
        Assert.True(log.Step(given.Id, new StepForm { Key = 1, Visit = 1, Canal = "MB1", Instrument = kind.Name, ItemId = "i1" }, given.By).IsGiven);

        Assert.True(log.Correct(given.Id, new CorrectionForm { Key = 2, Visit = 1, Entry = 1, Reason = "another file" }, given.By).IsGiven);

        Assert.Equal($"kit A, 3: use 3 of {kind.UsesPermitted}", Assert.Single(log.Items(kind.Code, given.Case, 1, "MB1")).Words);
    }

    [Fact]
    public void A_corrected_time_changes_the_minutes_and_keeps_both_entries()
    {
        Mark(new MarkForm { Key = 1, Visit = 1, Mark = ChairsideMark.RemovalStart, Canal = "MB1", Time = "10:00" });
        Mark(new MarkForm { Key = 2, Visit = 1, Mark = ChairsideMark.RemovalComplete, Canal = "MB1", Time = "10:20" });

        Assert.True(log.Correct(given.Id, new CorrectionForm { Key = 3, Visit = 1, Entry = 2, Reason = "tapped late", Time = "10:06" }, given.By).IsGiven);

        Assert.Equal(6, VisitMinutes.Of(given.Case.Chairside, 1)[VisitPhase.Removal].ElapsedMinutes);
        Assert.Equal(3, given.Case.Chairside.Count);
    }

    [Fact]
    public void Who_was_told_later_is_added_to_the_event()
    {
        Assert.True(log.Happened(given.Id, new EventForm { Key = 1, Visit = 1, Canal = "DB", Event = ProceduralEvent.SeparatedInstrument, FragmentLength = "2,5", Level = "16.5", Reference = "distobuccal cusp" }, given.By).IsGiven);
        Assert.True(log.Correct(given.Id, new CorrectionForm { Key = 2, Visit = 1, Entry = 1, ToldTo = "the patient", ToldTime = "10:15" }, given.By).IsGiven);

        var holds = Assert.IsType<EventHappened>(Assert.Single(ChairsideRecord.OfVisit(given.Case.Chairside, 1)));
        Assert.Equal(("the patient", new DateTimeOffset(2026, 3, 4, 9, 15, 0, TimeSpan.Zero), 2.5), (holds.ToldTo, holds.ToldAt, holds.FragmentLength!.Value.Value));
    }

    [Theory]
    [InlineData(1, null, "It is not said what was wrong.", "Say it in a few words, such as “tapped late”.")]
    [InlineData(5, "tapped late", "There is no entry 5 that holds.", "Choose the entry from the list again.")]
    public void A_correction_without_reason_or_entry_is_refused(int entry, string? why, string reason, string remedy)
    {
        Mark(new MarkForm { Key = 1, Visit = 1, Mark = ChairsideMark.Access });

        var refusal = log.Correct(given.Id, new CorrectionForm { Key = 2, Visit = 1, Entry = entry, Reason = why }, given.By).Refusal;

        Assert.Equal((reason, remedy), (refusal.Reason, refusal.Remedy));
    }

    [Fact]
    public void Every_event_has_a_card_that_defers_to_licensed_practice_and_names_no_dose()
    {
        Assert.Equal(Enum.GetValues<ProceduralEvent>(), EventCard.All.Select(card => card.Event));
        Assert.All(EventCard.All, card =>
        {
            Assert.InRange(card.Lines.Count, 1, 4);
            Assert.DoesNotMatch("(?i)\\bmg\\b|ibuprofen|paracetamol", string.Join(' ', card.Lines));
        });
        Assert.Equal("Follow the maker's instructions, local rules and licensed practice. Medicines and doses are the clinician's decision.", EventCard.Defer);
    }

    private static CanalRecord InventedCanal() => new("MB1", "MB", null, null, Found: true, CanalFilling.Filled, null, null, CanalIntent.Retreat, [], [], FoundLater: false);

    private void Mark(MarkForm form) => Assert.True(log.Mark(given.Id, form, given.By).IsGiven);
}
