using Secondpass.Domain.Films;
using Secondpass.Radiographs.Draw;

namespace Secondpass.Tests.Radiographs.Draw;

public sealed class ForeshortenedTests
{
    // 21 (1 − cos θ), in closed form.
    [Theory]
    [InlineData(10, 0.32)]
    [InlineData(20, 1.27)]
    public void An_instrument_of_21_mm_loses_what_its_angle_to_the_film_takes(double degrees, double lostMillimetres)
    {
        var (known, lengthAlong) = (Instrument(degrees), Length(degrees));

        Assert.Equal(degrees, known.Figure(DrawnQuantity.AngleToFilm)!.Value.Value, 1e-6);
        Assert.Equal(Math.Cos(double.DegreesToRadians(degrees)), known.Figure(DrawnQuantity.Foreshortening)!.Value.Value, 1e-9);
        Assert.Equal(lostMillimetres, Foreshortened.Correct(lengthAlong, known).Value.Lost.Value, 0.005);
        Assert.Equal(21, Foreshortened.Correct(lengthAlong, known).Value.LengthMillimetres.Value, 1e-9);
    }

    [Fact]
    public void A_corrected_length_is_less_certain_than_the_one_seen_and_says_by_how_much()
    {
        var seen = Length(10).Figure(DrawnQuantity.Length)!.Value;
        var corrected = Foreshortened.Correct(Length(10), Instrument(10)).Value;

        Assert.True(corrected.LengthMillimetres.Interval.Width > seen.Interval.Width);
        Assert.Equal((corrected.LengthMillimetres.Interval.Width - seen.Interval.Width) / 2, corrected.Wider.Value, 1e-9);

        // A stop that is read to 0.5 mm costs as much of 21 mm, before anything else.
        Assert.InRange((corrected.LengthMillimetres.Interval.Width / 2) / corrected.LengthMillimetres.Value, 0.5 / 21, 1);
    }

    [Fact]
    public void An_angle_to_the_film_may_be_none_and_may_be_hidden_by_magnification()
    {
        var angle = Instrument(10).Figure(DrawnQuantity.AngleToFilm)!.Value.Interval;

        Assert.Equal(0, angle.Low);
        Assert.True(angle.High > double.RadiansToDegrees(Math.Acos(Math.Cos(double.DegreesToRadians(10)) / 1.11)));
    }

    [Fact]
    public void Seen_a_little_longer_than_it_is_it_may_be_magnified_and_no_angle_is_told()
    {
        var known = OnFilm.Named("file", DrawnKind.KnownLength, Along(21 * 1.05), 21);

        Assert.Equal(0, known.Figure(DrawnQuantity.AngleToFilm)!.Value.Value);
    }

    [Fact]
    public void Refuses_an_instrument_seen_longer_than_a_film_magnifies() => Refuses(
        Along(27.3),
        21,
        "seen_longer_than_magnified",
        "The instrument is seen 27.3 mm long and is 21.0 mm: 30 % longer, and a film magnifies by 11 % at most.");

    [Fact]
    public void Refuses_an_angle_that_is_absurd() => Refuses(
        Along(10.5),
        21,
        "angle_to_film_absurd",
        "The instrument is seen 10.5 mm long and is 21.0 mm: it would lie at 60° to the film, more than the 40° that are taken as likely.");

    [Fact]
    public void Refuses_a_true_length_that_no_film_holds() => Refuses(
        Along(21),
        210,
        "implausible_true_length",
        "An instrument of 210 mm from tip to stop can't be on an intra-oral film (5 to 60 mm).");

    [Fact]
    public void Refuses_an_instrument_whose_length_is_not_said() => Refuses(Along(21), null, "no_true_length", "The true length of the instrument is not said.");

    [Fact]
    public void Corrects_only_what_runs_along_the_instrument()
    {
        var across = OnFilm.Named("width", DrawnKind.Length, [new(200, 300), new(500, 300)]);

        var refusal = Foreshortened.Correct(across, Instrument(10)).Refusal;

        Assert.Equal("other_direction", refusal.Code);
        Assert.Equal("“width” turns 90° from the instrument, more than the 15° within which it is foreshortened alike.", refusal.Reason);
    }

    private static DrawnMeasurement Instrument(double degrees) =>
        OnFilm.Named("file", DrawnKind.KnownLength, Along(21 * Math.Cos(double.DegreesToRadians(degrees))), 21);

    private static DrawnMeasurement Length(double degrees) =>
        OnFilm.Named("root", DrawnKind.Length, [.. Along(21 * Math.Cos(double.DegreesToRadians(degrees))).Select(point => point + new PixelPoint(40, 5))]);

    private static PixelPoint[] Along(double millimetres) => [new(300, 200), new(300, 200 + (millimetres / OnFilm.Millimetres))];

    private static void Refuses(IReadOnlyList<PixelPoint> points, double? trueMillimetres, string code, string reason)
    {
        var refusal = OnFilm.Measure(DrawnKind.KnownLength, points, trueMillimetres).Refusal;

        Assert.Equal(code, refusal.Code);
        Assert.Equal(reason, refusal.Reason);
        Assert.NotEmpty(refusal.Remedy);
    }
}
