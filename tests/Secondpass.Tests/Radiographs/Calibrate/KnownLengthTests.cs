using CsCheck;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;
using Secondpass.Exchange.Wording;
using Secondpass.Phantoms.Truth;
using Secondpass.Radiographs.Calibrate;
using Secondpass.Radiographs.Draw;
using Secondpass.Radiographs.Trace;

namespace Secondpass.Tests.Radiographs.Calibrate;

/// <summary>A film's scale from an object of known length on it.</summary>
public sealed class KnownLengthTests
{
    private const double ClickDeviationPixels = 1.8;

    [Fact]
    public void The_scale_is_as_uncertain_as_both_marks_and_the_last_digit_make_it()
    {
        var scale = FilmScale.Choose(Film(null), null, Known(700, 21, 0.5)).Value.Scale!;

        // √(0.006² + (√2 · 1.8 / 700)² + (0.5 / √3 / 21)²), by hand.
        Assert.Equal((0.03, CalibrationSource.KnownLength), (scale.MillimetresPerPixel, scale.Source));
        Assert.Equal(0.015433, scale.DeviationShare, 1e-6);
        Assert.Equal("0.03 mm per pixel, from a known length of 21 mm on the film, ±3.0 %", FilmWords.Scale(scale));
    }

    [Fact]
    public void A_length_known_to_a_tenth_leaves_less_open_than_one_known_to_a_millimetre()
    {
        var scale = Calibration.From(Known(700, 21, 0.05)).Value;

        Assert.Equal("0.03 mm per pixel, from a known length of 21.0 mm on the film, ±1.4 %", FilmWords.Scale(scale));
    }

    // 2 mm with ±0.1, and a scale of which marks and length leave 1.96 · 1.4219 %: ±√(0.1² + 0.0557²).
    [Fact]
    public void What_is_short_holds_the_scale_s_share_too()
    {
        var scale = Calibration.From(Known(700, 21, 0.5)).Value;

        var widened = scale.Widened(Estimate.Within(2, 0.1));

        Assert.Equal((1.8855, 2.1145), (Math.Round(widened.Interval.Low, 4, MidpointRounding.AwayFromZero), Math.Round(widened.Interval.High, 4, MidpointRounding.AwayFromZero)));
        Assert.Equal(Estimate.Within(2, 0.1), Calibration.From(0.03, CalibrationSource.File).Value.Widened(Estimate.Within(2, 0.1)));
        Assert.Equal(0, scale.Widened(new Estimate(2, new Interval(0, 3))).Interval.Low);
        Assert.True(scale.Widened(new Estimate(-1, new Interval(-1.1, -0.9))).Interval.Low < -1.1);
    }

    // A void of 9 mm ± 0.45, a wall of 3 mm that may be 0.55 thinner and 0.15 thicker; of an exact scale nothing is added to either.
    [Fact]
    public void The_less_certain_the_scale_the_wider_is_the_interval_of_a_void_s_length_and_of_a_wall()
    {
        var (gap, wall) = (new FillingVoid(100, 400, 9, Estimate.Within(50, 14)), 100.0);
        Calibration[] scales = [Calibration.From(0.03, CalibrationSource.File).Value, Calibration.From(Known(700, 21, 0.05)).Value, Calibration.From(Known(700, 21, 0.5)).Value];

        AssertWider([.. scales.Select(gap.Length)], new Interval(8.55, 9.45));
        AssertWider([.. scales.Select(scale => WallSample.InMillimetres(wall, scale))], new Interval(2.45, 3.15));

        static void AssertWider(Estimate[] read, Interval byAnExactScale)
        {
            Assert.Equal(byAnExactScale.Low, read[0].Interval.Low, 1e-12);
            Assert.Equal(byAnExactScale.High, read[0].Interval.High, 1e-12);
            Assert.All(read, one => Assert.Equal(read[0].Value, one.Value, 1e-12));
            Assert.All(read.Skip(1).Zip(read), pair => Assert.True(
                pair.First.Interval.Low < pair.Second.Interval.Low && pair.First.Interval.High > pair.Second.Interval.High,
                $"{pair.First.Interval} is no wider than {pair.Second.Interval}"));
        }
    }

    [Fact]
    public void Says_what_it_presumes_and_that_four_corners_are_better_for_a_photograph()
    {
        var notice = Assert.Single(FilmScale.Choose(Film(null), null, Known(700, 21, 0.5)).Value.Notices);

        Assert.StartsWith("Two marks 700 pixels apart on 21 mm leave ±3.0 % of a length open.", notice, StringComparison.Ordinal);
        Assert.Contains("holds where the object lies in the film's plane as the tooth does", notice, StringComparison.Ordinal);
        Assert.Contains("foreshortened", notice, StringComparison.Ordinal);
        Assert.EndsWith("On a photograph of a film its four corners are better.", notice, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0.0286, "The file says 0.0286 mm a pixel, the known length gives 0.0300: 5 % more.")]
    [InlineData(0.0316, "The file says 0.0316 mm a pixel, the known length gives 0.0300: 5 % less.")]
    [InlineData(0.0301, "The file says 0.0301 mm a pixel, the known length gives 0.0300: the same within half a percent.")]
    public void Beside_a_file_that_states_a_scale_both_stand_with_their_difference(double stated, string said)
    {
        var chosen = FilmScale.Choose(Film(stated), null, Known(700, 21, 0.5)).Value;

        Assert.Equal(0.03, chosen.Scale!.MillimetresPerPixel, 1e-12);
        Assert.Equal(said, chosen.Notices[1]);
    }

    [Fact]
    public void A_pixel_size_of_the_case_file_beats_it_and_both_others_are_quoted()
    {
        var chosen = FilmScale.Choose(Film(0.025), 0.028, Known(700, 21, 0.5)).Value;

        Assert.Equal((0.028, CalibrationSource.Entered), (chosen.Scale!.MillimetresPerPixel, chosen.Scale.Source));
        Assert.Equal(
            [
                "The entered scale of 0.028 mm per pixel was used; the film's own file states 0.025 mm.",
                "The entered scale of 0.028 mm per pixel was used; the known length on the film gives 0.03 mm.",
            ],
            chosen.Notices);
    }

    [Theory]
    [InlineData(49.5, 2, 0.5, "marks_too_close", "The two marks are 49.5 pixels apart; a scale needs at least 50.")]
    [InlineData(700, 500, 0.5, "implausible_known_length", "A known length of 500 mm can't give an intra-oral film its scale (2 to 100 mm).")]
    [InlineData(700, 0, 0.5, "implausible_known_length", "A known length of 0 mm can't give an intra-oral film its scale (2 to 100 mm).")]
    [InlineData(700, -21, 0.5, "implausible_known_length", "A known length of -21 mm can't give an intra-oral film its scale (2 to 100 mm).")]
    [InlineData(700, 21, 6, "implausible_known_length", "A known length of 21 mm that may be off by 6 mm can't give a film its scale.")]
    [InlineData(60, 60, 0.5, "implausible_pixel_size", "60 mm over 60 pixels make a pixel of 1 mm, which is not that of an intra-oral film (0.005 to 0.5 mm).")]
    [InlineData(5000, 700, 3, "point_outside_film", "A point at (100, 705) lies outside the film of 900 × 700 pixels.")]
    public void Refuses_what_can_t_be_and_quotes_it(double distancePixels, double millimetres, double within, string code, string reason)
    {
        var known = distancePixels > 1000 ? new KnownLength(new PixelPoint(100, 5), new PixelPoint(100, 705), new Millimetres(21), new Millimetres(0.5)) : Known(distancePixels, millimetres, within);

        var refusal = FilmScale.Choose(Film(null), null, known).Refusal;

        Assert.Equal((code, reason), (refusal.Code, refusal.Reason));
        Assert.NotEmpty(refusal.Remedy);
    }

    [Fact]
    public void Whatever_is_marked_and_typed_the_scale_is_plausible_and_its_share_a_number() =>
        Gen.Select(Gen.Double[-20, 920], Gen.Double[-20, 720], Gen.Double[-20, 920], Gen.Double[-20, 720], Gen.Double[-5, 200], Gen.Double[-1, 40]).Sample(
            (fromX, fromY, toX, toY, length, within) =>
                !FilmScale.Choose(Film(null), null, new KnownLength(new PixelPoint(fromX, fromY), new PixelPoint(toX, toY), new Millimetres(length), new Millimetres(within))).TryGet(out var chosen, out _)
                || chosen.Scale is { MillimetresPerPixel: >= Calibration.SmallestMillimetresPerPixel and <= Calibration.LargestMillimetresPerPixel, DeviationShare: > 0 and < 0.2 });

    // By drawing marks and lengths, not by the formula.
    [Theory]
    [InlineData(700, 0.03, 0.5)]
    [InlineData(80, 0.03, 0.05)]
    public void How_far_scales_err_agrees_with_twenty_thousand_hands_and_objects(double distancePixels, double millimetresPerPixel, double within)
    {
        var random = new Random(3);
        var typed = Math.Round(distancePixels * millimetresPerPixel, 1, MidpointRounding.AwayFromZero);
        double sum = 0, squares = 0;
        const int draws = 20_000;
        for (var i = 0; i < draws; i++)
        {
            var (from, to) = (new PixelPoint(ClickDeviationPixels * Normal(random), ClickDeviationPixels * Normal(random)), new PixelPoint(distancePixels + (ClickDeviationPixels * Normal(random)), ClickDeviationPixels * Normal(random)));
            var scale = (typed + (within * ((2 * random.NextDouble()) - 1))) / from.DistanceTo(to);
            (sum, squares) = (sum + scale, squares + (scale * scale));
        }

        var mean = sum / draws;
        var drawn = Math.Sqrt((squares / draws) - (mean * mean)) / mean;

        // 0.5 % by the number of draws, and what is beyond first order.
        Assert.Equal(1, new KnownLength(new PixelPoint(0, 0), new PixelPoint(distancePixels, 0), new Millimetres(typed), new Millimetres(within)).DeviationShare / drawn, 0.02);
    }

    // The film's true scale is known; the hand that marks and draws, and the length as typed, err as people's do.
    [Theory]
    [InlineData(0, 0.5)]
    [InlineData(1, 0.05)]
    public void Lengths_drawn_with_the_scale_lie_in_their_interval_however_roughly_the_object_was_marked(int digits, double within)
    {
        const double pixel = 0.03;
        const int hands = 1000;
        var film = Film(null);
        var random = new Random(7);
        var (inside, widest) = (0, 0.0);
        for (var hand = 0; hand < hands; hand++)
        {
            var truth = 5 + (12 * random.NextDouble());
            var (scale, from, to) = (Marked(film, random, pixel, digits, within), new PixelPoint(300, 40), new PixelPoint(300, 40 + (truth / pixel)));
            var drawn = DrawnMeasurer.Measure(film, scale, new DrawnShape(DrawnKind.Length, [Rough(from, random), Rough(to, random)], null)).Value.Figures[0].Value;
            inside += Holds(drawn, truth) ? 1 : 0;
            widest = Math.Max(widest, Width(drawn) / (2 * drawn.Value));
        }

        Assert.InRange(inside, 0.94 * hands, hands);
        Assert.True(widest < 0.07, $"an interval is ±{100 * widest:0.0} % wide");
    }

    // The films' true scale, canals and lengths are the simulator's.
    [Fact]
    public void Lengths_of_canals_on_simulated_films_lie_within_their_interval_however_roughly_the_object_was_marked()
    {
        var random = new Random(11);
        int inside = 0, all = 0;
        for (var seed = 801; seed <= 804; seed++)
        {
            var pair = PhantomPair.Make(seed, new PairOptions { Change = PairChange.None });
            var (film, pixel) = (pair.Before.Radiograph, pair.Before.Geometry.PixelSizeAtTooth);
            var clicks = pair.Clicks(0, ClickDeviationPixels, seed)[0];
            var truth = pair.Truth.Branch(clicks.Name).OnBefore.LengthMillimetres;
            var byFile = CanalTracer.Trace(film, Calibration.From(pixel, CalibrationSource.File).Value, clicks).Value.Measures.Length!.Value;
            for (var hand = 0; hand < 5; hand++)
            {
                var length = CanalTracer.Trace(film, Marked(film, random, pixel, 0, 0.5), clicks).Value.Measures.Length!.Value;
                all++;
                inside += Holds(length, truth) ? 1 : 0;
                Assert.True(Width(length) > Width(byFile), "the scale's share is in the interval");
            }
        }

        Assert.True(inside >= 0.9 * all, $"{inside} of {all} lie in their interval");
    }

    // An object of 12 to 20 mm, marked by a hand that errs, its length typed to so many digits.
    private static Calibration Marked(Radiograph film, Random random, double pixel, int digits, double within)
    {
        var length = 12 + (8 * random.NextDouble());
        return FilmScale.Choose(film, null, new KnownLength(
            Rough(new PixelPoint(200, 20), random),
            Rough(new PixelPoint(200, 20 + (length / pixel)), random),
            new Millimetres(Math.Round(length, digits, MidpointRounding.AwayFromZero)),
            new Millimetres(within))).Value.Scale!;
    }

    private static PixelPoint Rough(PixelPoint at, Random random) => at + new PixelPoint(ClickDeviationPixels * Normal(random), ClickDeviationPixels * Normal(random));

    private static bool Holds(Estimate estimate, double truth) => truth >= estimate.Interval.Low && truth <= estimate.Interval.High;

    private static double Width(Estimate estimate) => estimate.Interval.High - estimate.Interval.Low;

    private static double Normal(Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());

    private static KnownLength Known(double distancePixels, double millimetres, double within) =>
        new(new PixelPoint(100, 50), new PixelPoint(100 + distancePixels, 50), new Millimetres(millimetres), new Millimetres(within));

    private static Radiograph Film(double? millimetres) => new(
        900,
        700,
        new ushort[900 * 700],
        255,
        FilmFormat.Dicom,
        new string('0', 64),
        millimetres is { } stated ? new FileSpacing(new Millimetres(stated), new Millimetres(stated), SpacingMeaning.AtObject) : null);
}
