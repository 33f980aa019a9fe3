using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Trace;

namespace Secondpass.Tests.Radiographs.Trace;

/// <summary>Canals that run beside each other, each with a filling of its own, on drawn films of known truth.</summary>
public sealed class PartedWaysTests
{
    private static readonly Calibration Scale = Calibration.From(0.03, CalibrationSource.Entered).Value;

    private static readonly CanalPath Long = new([new PixelPoint(230, 40), new PixelPoint(220, 260), new PixelPoint(226, 460)]);

    // A thin filling that ends half way beside a broad, long one: alone, the way of the former ran along the latter and jumped over at both ends.
    [Theory]
    [InlineData(26, 200)]
    [InlineData(34, 240)]
    [InlineData(42, 300)]
    public void Each_of_two_canals_keeps_to_its_own_filling(double apart, double shortEnd)
    {
        var beside = Beside(apart);
        var film = Film(beside, shortEnd);

        var traced = CanalTracer.TraceAll(film, Scale, [RodFilm.Marks("P", Long), RodFilm.Marks("MB", beside)]).Value;

        Assert.InRange(Farthest(traced[0], Long, 400), 0, 6);
        Assert.InRange(Farthest(traced[1], beside, shortEnd), 0, 6);
        Assert.InRange(traced[1].Filling.FilledToPixels!.Value.Value, shortEnd - 8, shortEnd + 8);
    }

    [Fact]
    public void In_any_order_of_the_canals()
    {
        var beside = Beside(34);
        var film = Film(beside, 240);

        var one = CanalTracer.TraceAll(film, Scale, [RodFilm.Marks("P", Long), RodFilm.Marks("MB", beside)]).Value;
        var other = CanalTracer.TraceAll(film, Scale, [RodFilm.Marks("MB", beside), RodFilm.Marks("P", Long)]).Value;

        Assert.Equal(one[0].Path.Points, other[1].Path.Points);
        Assert.Equal(one[1].Path.Points, other[0].Path.Points);
    }

    [Fact]
    public void A_film_without_marked_canals_has_none() => Assert.Empty(CanalTracer.TraceAll(Film(Beside(34), 240), Scale, []).Value);

    private static CanalPath Beside(double apart) => new([.. Long.Points.Select(point => point + new PixelPoint(apart, 0))]);

    private static Radiograph Film(CanalPath beside, double shortEnd) =>
        RodFilm.Draw(480, 520, 100, inverted: false, (Long, level => level is > 10 and < 410 ? 11 : 0), (beside, level => level > 10 && level < shortEnd ? 6 : 0));

    private static double Farthest(TracedBranch traced, CanalPath line, double to) =>
        Enumerable.Range(2, (int)(to / 10) - 2).Max(i => FillingOverlap.NearestTo(line, traced.Path.At(10 * i)).Distance);
}
