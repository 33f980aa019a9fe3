using Secondpass.Domain.Chairside;
using Secondpass.Domain.Clinics;
using Secondpass.Domain.Instruments;
using Secondpass.Job.Instruments;
using Secondpass.Records.Events;
using Secondpass.Tests.Job.Cases;

namespace Secondpass.Tests.Job.Instruments;

public sealed class KeepInstrumentsTests : IDisposable
{
    private readonly CaseDesk desk = new();
    private readonly KeepInstruments instruments;

    public KeepInstrumentsTests() => instruments = new KeepInstruments(desk.Store);

    [Fact]
    public void Uses_at_the_chair_are_counted_once_per_tooth_and_visit_on_top_of_those_before()
    {
        var item = Add("retreatment-30-06", "kit A, 3", "2");
        var it = desk.Open();
        for (var canal = 1; canal <= 3; canal++)
        {
            var done = new StepDone(1, new DateTimeOffset(2026, 3, 4, 9, canal, 0, TimeSpan.Zero), $"MB{canal}", "retreatment rotary 30/.06", "retreatment-30-06", item, null, null);
            Assert.True(desk.Store.Cases.AppendEntry(it.Id, new EntryKey("chair", canal), new Author("Anna", "chair"), done).IsGiven);
        }

        Assert.Equal(3, instruments.Read().Items.Single().Uses);
    }

    [Theory]
    [InlineData(UseCount.PerToothAndVisit, "next: use 4 of 5")]
    [InlineData(UseCount.PerCanal, "none left: use 6 of 5")]
    [InlineData(UseCount.SingleUse, "none left: use 4 of 1")]
    public void Three_canals_of_a_visit_count_as_the_clinic_says(UseCount count, string next)
    {
        var item = Add("retreatment-30-06", "kit A, 3", "2");
        var it = desk.Open();
        for (var canal = 1; canal <= 3; canal++)
        {
            var done = new StepDone(1, new DateTimeOffset(2026, 3, 4, 9, canal, 0, TimeSpan.Zero), $"MB{canal}", "retreatment rotary 30/.06", "retreatment-30-06", item, null, null);
            Assert.True(desk.Store.Cases.AppendEntry(it.Id, new EntryKey("chair", canal), new Author("Anna", "chair"), done).IsGiven);
        }

        Note(new() { Which = "count", UseCount = count });

        var clinic = instruments.Read();
        var kind = clinic.Kinds.Single(one => one.Code == "retreatment-30-06");
        Assert.Equal(count, clinic.UseCount);
        Assert.Equal(next, $"{(clinic.Items[0].HasLifeLeft(kind) ? "next" : "none left")}: {clinic.Items[0].NextUse(kind)}");
    }

    [Fact]
    public void What_was_entered_is_there_again_after_it_was_stored()
    {
        var item = Add("ultrasonic-25", null, null);
        Note(new() { Which = "place", ItemId = item, Position = "kit A, 1" });
        Note(new() { Which = "unit", UnitName = "surgery 1", Thread = "M3 × 0.5", Chuck = "file chuck" });
        Note(new() { Which = "sequence", SequenceName = "Gentle", Steps = [new() { KindCode = "ultrasonic-25" }, new(), new() { KindCode = "retreatment-30-04", Rpm = "250", Torque = "0,8", Note = "light" }] });
        Note(new() { Which = "solvent", Solvent = "orange-oil", SolventNote = "apical third only" });
        Note(new() { Which = "limits", WallLeft = "0,8", Attempts = "2" });
        Note(new() { Which = "kind", KindName = "retreatment rotary 25/.06", Sort = InstrumentSort.RetreatmentRotary, TipSize = "25", Taper = "0.06", CuttingLength = "16", LowRpm = "400", HighRpm = "600", Torque = "2", UsesPermitted = "1" });

        var clinic = instruments.Read();
        Assert.Equal("kit A, 1", clinic.Items.Single().Position);
        Assert.Equal(new UltrasonicUnit("surgery 1", "M3 × 0.5", "file chuck"), clinic.Unit);
        Assert.Equal([("ultrasonic-25", null, null), ("retreatment-30-04", 250.0, 0.8)], clinic.Sequences.Single(sequence => sequence.Name == "Gentle").Steps.Select(step => (step.KindCode, step.SpeedRpm, step.TorqueNewtonCentimetres)));
        Assert.Equal(("orange-oil", "apical third only"), (clinic.Solvent.Code, clinic.Solvent.Note));
        Assert.Equal((0.8, 0.2, 2), (clinic.Limits.LeastWallLeft.Value, clinic.Limits.GreatestLossPerSide.Value, clinic.Limits.Attempts));
        var kind = clinic.Kinds.Single(one => one.Code == "retreatment-rotary-25--06");
        Assert.Equal((25, 0.06, 16.0, new SpeedRange(400, 600), 1), (kind.TipSize, kind.Taper, kind.CuttingLength!.Value.Value, kind.Speed, kind.UsesPermitted));
    }

    [Fact]
    public void What_cannot_be_is_refused_and_quoted()
    {
        Add("retreatment-30-06", "kit A, 3", null);

        Assert.Equal("At “kit A, 3” stands another instrument: retreatment rotary 30/.06.", Refused(new() { Which = "add", KindCode = "retreatment-30-04", Position = "kit A, 3" }));
        Assert.Equal("No kind was chosen.", Refused(new() { Which = "add" }));
        Assert.Equal("Uses before: “two” is not a number.", Refused(new() { Which = "add", KindCode = "hand-10", UsesBefore = "two" }));
        Assert.Equal("Neither thread nor chuck of “surgery 1” is entered.", Refused(new() { Which = "unit", UnitName = "surgery 1" }));
        Assert.Equal("The sequence “Empty” has no steps.", Refused(new() { Which = "sequence", SequenceName = "Empty" }));
        Assert.Equal("Step 1, speed: -5 rpm can't be.", Refused(new() { Which = "sequence", SequenceName = "Odd", Steps = [new() { KindCode = "retreatment-30-06", Rpm = "-5" }] }));
        Assert.Equal("“Ultrasonic first, then .06 and .04” is the only sequence: a plan needs one.", Refused(new() { Which = "give-up", SequenceName = "Ultrasonic first, then .06 and .04" }));
        Assert.Equal("It is not said how a use is counted.", Refused(new() { Which = "count" }));
        Assert.Equal("This instrument is not in stock.", Refused(new() { Which = "retire", ItemId = "no-such" }));
        Assert.Equal("Taper: 6 mm per mm can't be.", Refused(new() { Which = "kind", KindName = "odd", Sort = InstrumentSort.HandFile, Taper = "6" }));
    }

    [Fact]
    public void The_second_of_two_people_is_told_and_nothing_of_theirs_is_stored()
    {
        var version = instruments.Read().Version;
        Note(new() { Which = "solvent", Solvent = "xylene" });

        var refusal = instruments.Note(new InstrumentsForm { Which = "solvent", Solvent = "eucalyptol", Version = version }, CaseDesk.Ben).Refusal;

        Assert.Equal("clinic_changed", refusal.Code);
        Assert.Equal("xylene", instruments.Read().Solvent.Code);
    }

    public void Dispose() => desk.Dispose();

    private string Add(string kind, string? position, string? uses)
    {
        Note(new() { Which = "add", KindCode = kind, Position = position, UsesBefore = uses });
        return instruments.Read().Items[^1].Id;
    }

    private void Note(InstrumentsForm form)
    {
        form.Version = instruments.Read().Version;
        Assert.True(instruments.Note(form, CaseDesk.Anna).TryGet(out Clinic? _, out var refusal), refusal?.Reason);
    }

    private string Refused(InstrumentsForm form)
    {
        form.Version = instruments.Read().Version;
        return instruments.Note(form, CaseDesk.Anna).Refusal.Reason;
    }
}
