using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Trace;

namespace Secondpass.Tests.Radiographs.Trace;

/// <summary>Bright lines of bone that meet a canal beyond its filling, on drawn films of known truth.</summary>
public sealed class CrossingLineTests
{
    private const double FillingEnd = 240;

    private static readonly CanalPath Canal = new([new PixelPoint(200, 40), new PixelPoint(200, 300), new PixelPoint(225, 400), new PixelPoint(265, 440)]);

    // Down the film by so much over its whole width: a sinus floor over the last third of an upper molar's canal.
    [Theory]
    [InlineData(60, 9)]
    [InlineData(120, 7)]
    [InlineData(180, 9)]
    public void Does_not_take_a_line_of_bone_that_crosses_the_canal_for_its_filling(double slant, double radius)
    {
        var middle = new PixelPoint(235, 410);
        var bone = new CanalPath([middle - new PixelPoint(200, slant / 2), middle + new PixelPoint(200, slant / 2)]);

        var traced = Traced((Canal, Filling), (bone, _ => radius));

        Assert.InRange(traced.Filling.FilledToPixels!.Value.Value, FillingEnd - 6, FillingEnd + 6);
    }

    [Fact]
    public void Still_takes_filling_after_a_gap_for_filling()
    {
        var end = Canal.LengthPixels - 20;

        var traced = Traced((Canal, level => level > FillingEnd + 30 && level < end ? 6 : Filling(level)));

        Assert.InRange(traced.Filling.FilledToPixels!.Value.Value, end - 8, end + 8);
    }

    [Fact]
    public void Still_takes_filling_after_a_gap_for_filling_where_another_canal_s_runs_beside_it()
    {
        var end = Canal.LengthPixels - 20;
        var beside = new CanalPath([new PixelPoint(240, 40), new PixelPoint(240, 250), new PixelPoint(262, 400)]);

        var traced = Traced((Canal, level => level > FillingEnd + 30 && level < end ? 6 : Filling(level)), (beside, _ => 7));

        Assert.InRange(traced.Filling.FilledToPixels!.Value.Value, end - 8, end + 8);
    }

    private static double Filling(double level) => level is > 10 and < FillingEnd ? 12 - (level / 60) : 0;

    private static TracedBranch Traced(params (CanalPath Line, Func<double, double> Radius)[] rods) => CanalTracer.Trace(
        RodFilm.Draw(480, 500, 120, inverted: false, rods),
        Calibration.From(0.03, CalibrationSource.Entered).Value,
        new CanalClicks("P", [new Pin(Canal.At(0), PinStrength.Soft), new Pin(Canal.At(Canal.LengthPixels), PinStrength.Soft)], [])).Value;
}
