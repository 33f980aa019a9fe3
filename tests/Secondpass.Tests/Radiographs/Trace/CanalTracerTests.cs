using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Trace;

namespace Secondpass.Tests.Radiographs.Trace;

public sealed class CanalTracerTests
{
    private static readonly Calibration Scale = Calibration.From(0.03, CalibrationSource.Entered).Value;

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Follows_a_curved_filling_from_two_rough_clicks_whether_the_film_is_inverted_or_not(bool inverted)
    {
        var line = RodFilm.StraightArcStraight(new PixelPoint(150, 60), 180, 250, 35, 40);
        var film = RodFilm.Draw(420, 480, 150, inverted, (line, level => 12 - (0.02 * level)));

        var traced = CanalTracer.Trace(film, Scale, Clicks("MB1", line.Points[0] + new PixelPoint(2, 2), line.Points[^1] + new PixelPoint(-2, 2))).Value;

        var worst = traced.Path.Points.Max(point => line.Points.Min(p => p.DistanceTo(point)));
        Assert.True(worst < 2.5, $"the path strays {worst:0.00} px from the filling's middle");
        Assert.InRange(traced.Measures.Length!.Value.Value, (line.LengthPixels * 0.03) - 0.15, (line.LengthPixels * 0.03) + 0.15);
    }

    // 25° within 2 mm: the arc rises 2 (1 − cos 12.5°) = 0.05 mm over its chord.
    [Fact]
    public void Gives_no_radius_to_a_curve_that_hardly_rises_over_its_chord_and_says_so()
    {
        var line = RodFilm.StraightArcStraight(new PixelPoint(180, 40), 200, 67, 25, 170);
        var film = RodFilm.Draw(460, 540, 60, inverted: false, (line, level => 10 - (0.01 * level)));
        var scale = Calibration.From(0.03, CalibrationSource.Entered).Value;

        var pruett = CanalTracer.Trace(film, scale, RodFilm.Marks("P", line)).Value.Measures.Pruett;

        Assert.Null(pruett.AngleDegrees);
        Assert.Null(pruett.RadiusMillimetres);
        Assert.Matches("^The curve rises 0.0[3-9] mm over its chord, less than the 0.15 mm from which this method is used.$", pruett.WhyNone!);
    }

    [Fact]
    public void Measures_width_filling_end_and_angles_of_a_known_rod()
    {
        var line = RodFilm.StraightArcStraight(new PixelPoint(150, 60), 180, 200, 30, 120);
        var filledTo = line.LengthPixels - 60;
        var film = RodFilm.Draw(480, 540, 100, inverted: false, (line, level => level < filledTo ? 13 - (0.022 * level) : 0));

        var traced = CanalTracer.Trace(film, Scale, Clicks("MB1", line.Points[0], line.Points[^1])).Value;

        var worst = traced.Filling.Samples
            .Where(s => s.FillingWidthPixels is not null && s.LevelPixels > 12 && s.LevelPixels < filledTo - 12)
            .Max(s => Math.Abs(s.FillingWidthPixels!.Value.Value - (2 * (13 - (0.022 * s.LevelPixels)))));
        Assert.True(worst < 2.0, $"a width is off by {worst:0.00} px");
        Assert.InRange(traced.Filling.FilledToPixels!.Value.Value, filledTo - 2.5, filledTo + 2.5);
        Assert.InRange(traced.Measures.FillingEndToCanalEnd!.Value.Value, 1.8 - 0.12, 1.8 + 0.12);
        Assert.InRange(traced.Measures.Pruett.AngleDegrees!.Value.Value, 28, 32);
        Assert.InRange(traced.Measures.Pruett.RadiusMillimetres!.Value.Value, 5.4, 6.6);
    }

    [Fact]
    public void Traces_a_branch_from_its_trunk_and_counts_lengths_from_the_orifice()
    {
        var trunk = RodFilm.StraightArcStraight(new PixelPoint(200, 50), 380, 1, 0.5, 1);
        var branch = new CanalPath([new PixelPoint(200, 230), new PixelPoint(240, 330), new PixelPoint(270, 420)]);
        var film = RodFilm.Draw(420, 480, 100, inverted: false, (trunk, _ => 9), (branch, _ => 7));
        var clicks = new CanalClicks(
            "D",
            [new Pin(new PixelPoint(200, 52), PinStrength.Soft), new Pin(new PixelPoint(200, 428), PinStrength.Soft)],
            [Clicks("D2", new PixelPoint(206, 232), new PixelPoint(270, 418))]);

        var traced = CanalTracer.Trace(film, Scale, clicks).Value;

        var second = Assert.Single(traced.Branches);
        Assert.InRange(second.OwnFromPixels, 165, 195);
        Assert.InRange(second.Path.LengthPixels, 180 + branch.LengthPixels - 15, 180 + branch.LengthPixels + 12);
        Assert.Equal(traced.Path.Points[0].X, second.Path.Points[0].X, 2.0);
    }

    // A film keeps the canals that were traced on it.
    [Fact]
    public void A_canal_asked_for_again_is_what_a_new_film_gives_for_its_own_marks_and_scale()
    {
        var line = RodFilm.StraightArcStraight(new PixelPoint(150, 60), 180, 250, 35, 40);
        Radiograph Film() => RodFilm.Draw(420, 480, 100, inverted: false, (line, level => 12 - (0.02 * level)));
        var other = Calibration.From(0.02, CalibrationSource.Entered).Value;
        var shorter = Clicks("MB1", line.Points[0], line.At(300));
        var whole = Clicks("MB1", line.Points[0], line.Points[^1]);
        var film = Film();

        foreach (var (clicks, scale) in new[] { (whole, Scale), (shorter, Scale), (whole, other), (whole, Scale) })
        {
            var again = CanalTracer.Trace(film, scale, clicks).Value;
            var anew = CanalTracer.Trace(Film(), scale, clicks).Value;
            Assert.Equal(anew.Path.Points, again.Path.Points);
            Assert.Equal(anew.Measures.Length, again.Measures.Length);
            Assert.Equal(anew.Filling.Samples, again.Filling.Samples);
        }
    }

    [Fact]
    public void Refuses_a_trace_of_one_point()
    {
        var film = RodFilm.Draw(200, 200, 10, inverted: false);

        var refusal = CanalTracer.Trace(film, Scale, new CanalClicks("P", [new Pin(new PixelPoint(10, 10), PinStrength.Soft)], [])).Refusal;

        Assert.Equal("The trace of P has one mark; a canal needs at least two, orifice and end.", refusal.Reason);
        Assert.Equal("Mark the orifice and the end of the canal.", refusal.Remedy);
    }

    [Fact]
    public void Refuses_a_mark_outside_the_film_and_quotes_it()
    {
        var film = RodFilm.Draw(200, 200, 10, inverted: false);

        var refusal = CanalTracer.Trace(film, Scale, Clicks("P", new PixelPoint(10, 10), new PixelPoint(10, 450))).Refusal;

        Assert.Equal("The trace of P has a mark at (10, 450), outside the film of 200 × 200 pixels.", refusal.Reason);
    }

    private static CanalClicks Clicks(string name, PixelPoint orifice, PixelPoint end) =>
        new(name, [new Pin(orifice, PinStrength.Soft), new Pin(end, PinStrength.Soft)], []);
}
