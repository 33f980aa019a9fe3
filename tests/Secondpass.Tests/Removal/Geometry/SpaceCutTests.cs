using CsCheck;
using Secondpass.Domain.Plans;
using Secondpass.Domain.Quantities;
using Secondpass.Removal.Geometry;

namespace Secondpass.Tests.Removal.Geometry;

public sealed class SpaceCutTests
{
    private static readonly Gen<(InstrumentShape Shape, IReadOnlyList<WidthAtLevel> Widths, double Stop)> Cases =
        from size in Gen.Int[15, 60]
        from taper in Gen.Double[0, 0.12]
        from stop in Gen.Double[0, 10]
        from tip in Gen.Double[0.2, 0.6]
        from canalTaper in Gen.Double[0, 0.08]
        from filledShare in Gen.Double[0.3, 1.2].Array[32]
        select (
            InstrumentShape.Of(InstrumentShapeTests.Kind(size, taper))!,
            (IReadOnlyList<WidthAtLevel>)[.. filledShare.Select((share, i) => new WidthAtLevel(
                new Millimetres(i * 0.5),
                new Millimetres(share * (tip + (canalTaper * i * 0.5))),
                new Millimetres(tip + (canalTaper * i * 0.5))))],
            stop);

    // Worked by hand: 30/.06 stopped 2 mm short, at 10 mm from the end: D = 0.30 + 0.06 · 8 = 0.78 mm.
    [Fact]
    public void At_8_mm_above_its_tip_a_30_06_takes_0_04_mm_from_each_side_of_a_canal_of_0_70()
    {
        var cut = SpaceCut.Of(InstrumentShape.Of(InstrumentShapeTests.Kind(30, 0.06))!, [Width(10, 0.60, 0.70)], 2);

        var level = Assert.Single(cut.Levels);
        Assert.Equal(0.60, level.FillingCutMillimetres, 1e-12);
        Assert.Equal(0.04, level.DentinePerSideMillimetres, 1e-12);
        Assert.Equal(0.78, level.NewWidthMillimetres, 1e-12);
    }

    // Of the same tip, .06 cuts 0.01·x mm a side more than .04 at x mm from it: 0.08 mm at 8 mm (geometry; the sign after Keleş et al., J Endod: .06 thins the wall further than .04).
    [Fact]
    public void A_taper_of_06_takes_0_08_mm_a_side_more_than_one_of_04_at_8_mm()
    {
        var widths = (IReadOnlyList<WidthAtLevel>)[Width(8, 0.2, 0.2)];
        double Loss(double taper) => SpaceCut.Of(InstrumentShape.Of(InstrumentShapeTests.Kind(30, taper))!, widths, 0).GreatestLossPerSideMillimetres;

        Assert.Equal(0.08, Loss(0.06) - Loss(0.04), 1e-12);
    }

    [Fact]
    public void Where_only_the_filling_was_measured_the_canal_is_taken_to_be_as_wide()
    {
        var cut = SpaceCut.Of(InstrumentShape.Of(InstrumentShapeTests.Kind(30, 0.04))!, [new(new(5), new Millimetres(0.4), null), new(new(6), null, null)], 0);

        Assert.Equal((0.4, 0.05), (cut.Levels.Single().OldWidthMillimetres, Math.Round(cut.Levels.Single().DentinePerSideMillimetres, 10, MidpointRounding.AwayFromZero)));
    }

    [Fact]
    public void The_loss_between_two_levels_lies_on_the_line_and_outside_them_is_not_known()
    {
        var cut = SpaceCut.Of(InstrumentShape.Of(InstrumentShapeTests.Kind(30, 0.06))!, [Width(4, 0.3, 0.3), Width(6, 0.3, 0.3)], 0);

        Assert.Equal(0.15, cut.LossPerSideMillimetresAt(5)!.Value, 1e-12);
        Assert.Null(cut.LossPerSideMillimetresAt(3.9));
        Assert.Null(cut.LossPerSideMillimetresAt(6.1));
    }

    // Between 0.30 mm at the end and 0.86 mm at 14 mm the canal is 0.62 mm wide at 8 mm; 30/.06 stopped 2 mm short is 0.66 mm there.
    [Fact]
    public void Between_levels_far_apart_the_canals_width_runs_straight_and_the_loss_follows_from_it()
    {
        var cut = SpaceCut.Of(InstrumentShape.Of(InstrumentShapeTests.Kind(30, 0.06))!, [Width(0, 0.30, 0.30), Width(14, 0.86, 0.86)], 2);

        Assert.Equal(0.02, cut.LossPerSideMillimetresAt(8)!.Value, 1e-9);
        Assert.Equal(0, cut.LossPerSideMillimetresAt(1)!.Value);
    }

    [Fact]
    public void Going_deeper_never_cuts_less() => Cases.Sample(one =>
    {
        var shallow = SpaceCut.Of(one.Shape, one.Widths, one.Stop + 1);
        var deep = SpaceCut.Of(one.Shape, one.Widths, one.Stop);
        Assert.All(shallow.Levels.Zip(deep.Levels), pair =>
        {
            Assert.True(pair.Second.DentinePerSideMillimetres >= pair.First.DentinePerSideMillimetres);
            Assert.True(pair.Second.FillingCutMillimetres >= pair.First.FillingCutMillimetres);
        });
    });

    [Fact]
    public void A_canal_is_never_narrower_afterwards_and_both_sides_make_up_the_difference() => Cases.Sample(one =>
        Assert.All(SpaceCut.Of(one.Shape, one.Widths, one.Stop).Levels, level =>
        {
            Assert.True(level.NewWidthMillimetres >= level.OldWidthMillimetres);
            Assert.Equal(level.NewWidthMillimetres, level.OldWidthMillimetres + (2 * level.DentinePerSideMillimetres), 1e-12);
            Assert.True(level.FillingCutMillimetres <= level.FillingWidthMillimetres && level.FillingWidthMillimetres <= level.OldWidthMillimetres);
        }));

    [Fact]
    public void Volumes_add_up() => Cases.Sample(one =>
    {
        var volumes = SpaceCut.Of(one.Shape, one.Widths, one.Stop).Volumes();
        Assert.Equal(volumes.FillingCubicMillimetres, volumes.FillingCutCubicMillimetres + volumes.FillingLeftCubicMillimetres, 1e-9);
        Assert.Equal(volumes.WidenedCubicMillimetres, volumes.CanalCubicMillimetres + volumes.DentineCutCubicMillimetres, 1e-9);
        Assert.InRange(volumes.FillingCutCubicMillimetres, 0, volumes.FillingCubicMillimetres);
        Assert.True(volumes.DentineCutCubicMillimetres >= 0);
    });

    // A canal that is a cone as the instrument itself: what it cuts of a filling that fills it is the cone's own volume.
    [Fact]
    public void An_instrument_in_a_canal_of_its_own_shape_takes_all_of_the_filling_and_no_dentine()
    {
        var shape = InstrumentShape.Of(InstrumentShapeTests.Kind(30, 0.04))!;
        var volumes = SpaceCut.Of(shape, [.. Enumerable.Range(0, 1601).Select(i => Width(i * 0.01, 0.30 + (0.0004 * i), 0.30 + (0.0004 * i)))], 0).Volumes();

        Assert.Equal(0, volumes.FillingLeftCubicMillimetres, 1e-12);
        Assert.Equal(0, volumes.DentineCutCubicMillimetres, 1e-12);
        Assert.Equal(shape.VolumeCubicMillimetres(16), volumes.FillingCutCubicMillimetres, 1e-5);
    }

    private static WidthAtLevel Width(double fromEnd, double filling, double canal) => new(new Millimetres(fromEnd), new Millimetres(filling), new Millimetres(canal));
}
