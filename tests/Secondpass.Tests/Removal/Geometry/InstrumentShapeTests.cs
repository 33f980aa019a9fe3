using CsCheck;
using Secondpass.Domain.Instruments;
using Secondpass.Domain.Quantities;
using Secondpass.Removal.Geometry;

namespace Secondpass.Tests.Removal.Geometry;

public sealed class InstrumentShapeTests
{
    // ISO 3630-1 geometry: D(x) = D0 + t·x, exact. D3/D8/D16 of tip 30.
    [Theory]
    [InlineData("retreatment-30-12", 0.66, 1.26, 2.22)]
    [InlineData("retreatment-30-08", 0.54, 0.94, 1.58)]
    [InlineData("retreatment-30-06", 0.48, 0.78, 1.26)]
    [InlineData("retreatment-30-04", 0.42, 0.62, 0.94)]
    public void Retreatment_rotaries_of_tip_30_have_their_diameters_at_3_8_and_16_mm(string code, double d3, double d8, double d16)
    {
        var shape = InstrumentShape.Of(ShippedKinds.All.Single(kind => kind.Code == code))!;

        Assert.Equal([0.30, d3, d8, d16], ((double[])[0, 3, 8, 16]).Select(x => Math.Round(shape.DiameterMillimetresAt(x), 10, MidpointRounding.AwayFromZero)));
    }

    // The same rule on the sizes that ISO 3630-1 gives .02 instruments: D16 = D0 + 0.32 mm.
    [Theory]
    [InlineData("hand-08", 0.08, 0.40)]
    [InlineData("hand-10", 0.10, 0.42)]
    [InlineData("hedstrom-25", 0.25, 0.57)]
    [InlineData("ultrasonic-35", 0.35, 0.67)]
    public void Instruments_of_taper_02_are_a_third_of_a_millimetre_thicker_at_16_mm(string code, double d0, double d16)
    {
        var shape = InstrumentShape.Of(ShippedKinds.All.Single(kind => kind.Code == code))!;

        Assert.Equal(d0, shape.DiameterMillimetresAt(0), 1e-12);
        Assert.Equal(d16, shape.DiameterMillimetresAt(16), 1e-12);
    }

    // Frustum of 16 mm: π·L·(a² + ab + b²)/12, computed apart from this program to two places.
    [Theory]
    [InlineData(25, 0.06, 7.66)]
    [InlineData(30, 0.04, 5.26)]
    [InlineData(30, 0.06, 8.61)]
    [InlineData(35, 0.04, 6.07)]
    public void Sixteen_millimetres_of_a_cone_have_the_volume_of_a_frustum(int size, double taper, double cubicMillimetres) =>
        Assert.Equal(cubicMillimetres, InstrumentShape.Of(Kind(size, taper))!.VolumeCubicMillimetres(16), 0.005);

    [Fact]
    public void The_cutting_part_never_exceeds_its_greatest_diameter_and_the_shaft_stands_beyond_it()
    {
        var shape = InstrumentShape.Of(Kind(30, 0.12) with { GreatestDiameter = new Millimetres(1.2), ShaftDiameter = new Millimetres(1.0) })!;

        Assert.Equal(1.2, shape.DiameterMillimetresAt(10), 1e-12);
        Assert.Equal(1.0, shape.DiameterMillimetresAt(16.1), 1e-12);
        Assert.Equal(1.2, shape.SweptDiameterMillimetresAt(20), 1e-12);
        Assert.Equal(0, shape.DiameterMillimetresAt(-0.1));
    }

    [Fact]
    public void An_adaptive_core_has_a_least_and_a_greatest_space()
    {
        var shape = InstrumentShape.Of(ShippedKinds.All.Single(kind => kind.Sort == InstrumentSort.AdaptiveCoreFile))!;

        Assert.Equal((0.25, 0.25), (shape.DiameterMillimetresAt(8), shape.DiameterMillimetresAt(0)));
        Assert.Equal((1.5, 0.25, 0.25), (shape.OpenedDiameterMillimetresAt(8), shape.OpenedDiameterMillimetresAt(0), shape.OpenedDiameterMillimetresAt(16)));
    }

    [Fact]
    public void A_tool_without_a_size_has_no_shape() =>
        Assert.Null(InstrumentShape.Of(ShippedKinds.All.Single(kind => kind.Code == "forceps")));

    [Fact]
    public void Volume_is_the_sum_of_thin_slices_of_the_same_profile() => (
        from size in Gen.Int[6, 60]
        from taper in Gen.Double[0, 0.12]
        from greatest in Gen.Double[0.6, 3]
        from to in Gen.Double[0, 18]
        select (size, taper, greatest, to)).Sample(one =>
        {
            var shape = InstrumentShape.Of(Kind(one.size, one.taper) with { GreatestDiameter = new Millimetres(one.greatest) })!;
            const int Slices = 4000;
            var cutting = Math.Min(one.to, 16);
            var sum = Enumerable.Range(0, Slices).Sum(i =>
            {
                var diameter = shape.DiameterMillimetresAt((i + 0.5) * cutting / Slices);
                return Math.PI / 4 * diameter * diameter * cutting / Slices;
            });

            // The midpoint rule's error on a parabola of curvature π·t²/2 over such slices, and a bend inside one slice.
            Assert.Equal(sum, shape.VolumeCubicMillimetres(one.to), 2e-5);
        });

    [Fact]
    public void An_opened_core_is_never_narrower_than_a_closed_one() => (
        from x in Gen.Double[-2, 20]
        from opened in Gen.Double[0.1, 3]
        select (x, opened)).Sample(one =>
        {
            var shape = InstrumentShape.Of(Kind(25, 0) with { ExpandedDiameter = new Millimetres(one.opened) })!;
            Assert.True(shape.OpenedDiameterMillimetresAt(one.x) >= shape.DiameterMillimetresAt(one.x));
        });

    internal static InstrumentKind Kind(int size, double taper) => new(
        $"test-{size}", $"test {size}", InstrumentSort.RetreatmentRotary, size, taper, new Millimetres(16), null, null, null, null, null, null, null);
}
