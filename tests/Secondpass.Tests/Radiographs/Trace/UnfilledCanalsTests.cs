using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Trace;

namespace Secondpass.Tests.Radiographs.Trace;

/// <summary>A canal without filling between walls of dentine, which are the lightest line near its marks.</summary>
public sealed class UnfilledCanalsTests
{
    private const double DentineDensity = 30;
    private const double CanalDensity = -60;

    private static readonly Calibration Scale = Calibration.From(0.03, CalibrationSource.Entered).Value;
    private static readonly CanalPath Filled = RodFilm.StraightArcStraight(new PixelPoint(140, 80), 200, 200, 30, 100);
    private static readonly CanalPath Curved = new([.. Enumerable.Range(0, 220).Select(step => new PixelPoint(480 + (28 * Math.Sin(step / 35.0)), 80 + (2 * step)))]);

    [Theory]
    [InlineData(2, false)]
    [InlineData(2, true)]
    [InlineData(4, false)]
    [InlineData(4, true)]
    [InlineData(5, false)]
    public void Follows_the_dark_line_beside_a_filled_canal_and_sees_no_filling(int marks, bool inverted)
    {
        var traced = CanalTracer.TraceAll(Film(inverted), Scale, [RodFilm.Marks("MB", Filled), Marks(marks)]).Value;

        Assert.InRange(traced[0].Measures.FilledPercent, 90, 100);
        AssertEmptyAlongItsLine(traced[1]);
    }

    // With two marks the light way may cross the canal, and no other filling says that what it finds is none.
    [Theory]
    [InlineData(4)]
    [InlineData(5)]
    public void Follows_it_where_no_other_canal_is_marked(int marks) => AssertEmptyAlongItsLine(CanalTracer.Trace(Film(inverted: false), Scale, Marks(marks)).Value);

    // A filling a third as dense as its neighbour, as beside a steel post, is a filling.
    [Fact]
    public void Takes_a_filling_for_one_beside_something_three_times_as_dense()
    {
        var film = RodFilm.DrawDense(
            640, 620, 100, inverted: false, (Filled, _ => 75, DentineDensity), (Filled, level => 11 - (0.012 * level), 3 * RodFilm.FillingDensity), (Curved, _ => 75, DentineDensity), (Curved, _ => 7, RodFilm.FillingDensity));
        var traced = CanalTracer.TraceAll(film, Scale, [RodFilm.Marks("MB", Filled), Marks(2)]).Value;

        Assert.InRange(traced[1].Measures.FilledPercent, 90, 100);
    }

    private static Radiograph Film(bool inverted) => RodFilm.DrawDense(
        640, 620, 100, inverted, (Filled, _ => 75, DentineDensity), (Filled, level => 11 - (0.012 * level), RodFilm.FillingDensity), (Curved, _ => 75, DentineDensity), (Curved, _ => 7, CanalDensity));

    private static CanalClicks Marks(int count) =>
        new("P", [.. Enumerable.Range(0, count).Select(mark => new Pin(Curved.At(Curved.LengthPixels * mark / (count - 1)), PinStrength.Soft))], []);

    private static void AssertEmptyAlongItsLine(TracedBranch traced)
    {
        Assert.Equal(0, traced.Measures.FilledPercent);
        Assert.InRange(traced.Path.LengthPixels / Curved.LengthPixels, 0.98, 1.02);
        Assert.All(traced.Path.Points, place => Assert.InRange(Curved.Points.Min(point => point.DistanceTo(place)), 0, 4));
    }
}
