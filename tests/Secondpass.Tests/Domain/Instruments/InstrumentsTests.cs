using Secondpass.Domain.Clinics;
using Secondpass.Domain.Instruments;
using Secondpass.Domain.Plans;
using Secondpass.Domain.Quantities;

namespace Secondpass.Tests.Domain.Instruments;

public sealed class InstrumentsTests
{
    private static readonly InstrumentKind Six = Shipped("retreatment-30-06");

    [Fact]
    public void Every_sort_is_shipped_once_at_least_and_every_code_is_its_own()
    {
        Assert.Equal(Enum.GetValues<InstrumentSort>(), ShippedKinds.All.Select(kind => kind.Sort).Distinct().Order());
        Assert.Equal(ShippedKinds.All.Count, ShippedKinds.All.Select(kind => kind.Code).Distinct().Count());
        Assert.All(ShippedKinds.All, kind => Assert.NotEmpty(kind.Basis));
    }

    // Common practice, no source: .06 and .04 of the set are used five times at most at 150–300 rpm and 1 N·cm, the adaptive-core file at 850–1000 rpm and 1 N·cm.
    [Fact]
    public void A_makers_range_belongs_to_its_own_kind_and_never_to_all_of_a_set()
    {
        Assert.All((string[])["retreatment-30-06", "retreatment-30-04"], code =>
        {
            var kind = Shipped(code);
            Assert.Equal((new SpeedRange(150, 300), 1.0, 5), (kind.Speed, kind.TorqueNewtonCentimetres, kind.UsesPermitted));
            Assert.Contains("common practice, no source", kind.Basis, StringComparison.Ordinal);
        });
        Assert.All((string[])["retreatment-30-12", "retreatment-30-08"], code => Assert.Equal((null, null, null), (Shipped(code).Speed, Shipped(code).TorqueNewtonCentimetres, Shipped(code).UsesPermitted)));
        Assert.Equal((new SpeedRange(850, 1000), 1.0), (Shipped("adaptive-core-25").Speed, Shipped("adaptive-core-25").TorqueNewtonCentimetres));
        Assert.Contains(Six.PublishedBeside, said => said.Contains("600–800 rpm", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(0, "use 1 of 5", true, null)]
    [InlineData(2, "use 3 of 5", true, null)]
    [InlineData(4, "use 5 of 5", true, null)]
    [InlineData(5, "use 6 of 5", false, null)]
    [InlineData(6, "use 7 of 5", false, "retreatment rotary 30/.06, kit A, 3: 6 uses noted, 5 permitted. Was it replaced, or is it used up?")]
    public void The_sixth_use_is_asked_about_afterwards_and_not_before(int uses, string next, bool lifeLeft, string? asked)
    {
        var item = new InstrumentItem("a1", Six.Code, "kit A, 3", uses, Retired: false);

        Assert.Equal((next, lifeLeft, asked), (item.NextUse(Six), item.HasLifeLeft(Six), item.AskAfterwards(Six)));
        Assert.False((item with { Retired = true }).HasLifeLeft(Six));
    }

    [Theory]
    [InlineData("M3 × 0.6", "M3x0,6", null, true)]
    [InlineData("file chuck", null, "File chuck", true)]
    [InlineData("M3 × 0.6", "M3 × 0.5", "file chuck", false)]
    [InlineData("file chuck", "M3 × 0.5", null, false)]
    [InlineData(null, "M3 × 0.5", null, null)]
    public void A_tip_fits_a_unit_that_has_its_thread_or_its_chuck(string? needs, string? thread, string? chuck, bool? fits) =>
        Assert.Equal(fits, new UltrasonicUnit("Surgery 1", thread, chuck).Fits(Shipped("ultrasonic-25") with { Fitting = needs }));

    [Fact]
    public void The_order_line_names_unit_thread_and_chuck()
    {
        var file = Shipped("ultrasonic-25");

        Assert.Equal("ultrasonic file 25/.02, fits file chuck; for ultrasonic unit Surgery 1: thread M3 × 0.5, chuck file chuck", UltrasonicUnit.OrderLine(file, new UltrasonicUnit("Surgery 1", "M3 × 0.5", "file chuck")));
        Assert.Equal("ultrasonic file 25/.02, fits file chuck; unit, thread and chuck are not entered yet: check them before ordering", UltrasonicUnit.OrderLine(file, null));
        Assert.Equal("retreatment rotary 30/.06", UltrasonicUnit.OrderLine(Six, null));
    }

    [Theory]
    [InlineData(300.0, null)]
    [InlineData(350.0, "350 rpm is outside the maker's 150–300 rpm for retreatment rotary 30/.06, by 50 rpm above.")]
    [InlineData(400.0, "400 rpm is outside the maker's 150–300 rpm for retreatment rotary 30/.06, by 100 rpm above.")]
    [InlineData(120.0, "120 rpm is outside the maker's 150–300 rpm for retreatment rotary 30/.06, by 30 rpm below.")]
    public void A_speed_is_held_against_the_makers_range(double speed, string? said) =>
        Assert.Equal(said, SequenceCheck.Of(new SequenceStep(Six.Code, speed, 1, null), Six).SingleOrDefault());

    [Fact]
    public void Torque_above_the_makers_and_ranges_that_are_not_known_are_said()
    {
        Assert.Equal("2.5 N·cm is above the maker's 1 N·cm for retreatment rotary 30/.06, by 1.5 N·cm.", SequenceCheck.Of(new SequenceStep(Six.Code, 300, 2.5, null), Six).Single());
        Assert.Equal("300 rpm: the maker's range of retreatment rotary 30/.12 is not entered.", SequenceCheck.Of(new SequenceStep("retreatment-30-12", 300, null, null), Shipped("retreatment-30-12")).Single());
        Assert.Equal("300 rpm: ultrasonic file 25/.02 doesn't rotate.", SequenceCheck.Of(new SequenceStep("ultrasonic-25", 300, null, null), Shipped("ultrasonic-25")).Single());
    }

    [Fact]
    public void A_clinic_is_what_its_events_say_and_starts_with_what_ships()
    {
        var slower = Six with { Speed = new SpeedRange(200, 250), Basis = "Entered by the clinic." };
        var own = new Sequence("Mine", [new("retreatment-30-04", 250, 1, null)]);
        var clinic = Clinic.From(
        [
            new KindEntered(slower),
            new ItemAdded("a", Six.Code, "kit A, 1", 2),
            new ItemAdded("b", Six.Code, null, 0),
            new ItemPlaced("b", "kit A, 2"),
            new ItemRetired("a", "used up"),
            new UltrasonicUnitEntered(new UltrasonicUnit("Surgery 1", null, "file chuck")),
            new SequenceSaved(own),
            new SequenceGivenUp(ShippedSequences.Example.Name),
            new SolventPreferred(new SolventPreference("orange-oil", null)),
            new PlanLimitsSet(PlanLimits.Default with { LeastWallLeft = new Millimetres(0.8) }),
        ]);

        Assert.Equal(ShippedKinds.All.Count, clinic.Kinds.Count);
        Assert.Equal(slower, clinic.Kinds.Single(kind => kind.Code == Six.Code));
        Assert.Equal([new("a", Six.Code, "kit A, 1", 2, true), new("b", Six.Code, "kit A, 2", 0, false)], clinic.Items);
        Assert.Equal([own], clinic.Sequences);
        Assert.Equal(("Surgery 1", "orange-oil", 0.8, 10L), (clinic.Unit!.Name, clinic.Solvent.Code, clinic.Limits.LeastWallLeft.Value, clinic.Version));
        Assert.Equal([ShippedSequences.Example], Clinic.Start.Sequences);
    }

    [Fact]
    public void A_rule_of_single_use_stands_above_what_a_file_permits_and_leaves_other_instruments_and_what_was_entered()
    {
        var forceps = ShippedKinds.All.First(kind => kind.Sort == InstrumentSort.Forceps);
        var ten = Six with { UsesPermitted = 10 };
        var single = Clinic.From([new KindEntered(ten), new UseCountChosen(UseCount.SingleUse)]);

        Assert.All(single.Kinds, kind => Assert.Equal(kind.Sort.IsFile() ? 1 : null, kind.UsesPermitted));
        Assert.Equal((1, forceps.UsesPermitted), (PermittedOf(single, Six.Code), PermittedOf(single, forceps.Code)));
        Assert.Equal([InstrumentSort.HeatedPlugger, InstrumentSort.MicroOpener, InstrumentSort.Forceps, InstrumentSort.ExtractorTube], Enum.GetValues<InstrumentSort>().Where(sort => !sort.IsFile()));
        var item = new InstrumentItem("a1", Six.Code, "kit A, 3", 1, Retired: false);
        var file = single.Kinds.Single(kind => kind.Code == Six.Code);
        Assert.Equal((false, null), (item.HasLifeLeft(file), item.AskAfterwards(file)));
        Assert.Equal("retreatment rotary 30/.06, kit A, 3: 2 uses noted, 1 permitted. Was it replaced, or is it used up?", (item with { Uses = 2 }).AskAfterwards(file));
        Assert.Equal(10, PermittedOf(single.With(new UseCountChosen(UseCount.PerCanal)), Six.Code));

        static int? PermittedOf(Clinic clinic, string code) => clinic.Kinds.Single(kind => kind.Code == code).UsesPermitted;
    }

    [Fact]
    public void Each_solvent_has_published_figures_of_its_own() => Assert.All(Solvents.All, solvent => Assert.NotEmpty(solvent.Published));

    private static InstrumentKind Shipped(string code) => ShippedKinds.All.Single(kind => kind.Code == code);
}
