using CsCheck;
using Secondpass.Domain;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;
using Secondpass.Radiographs.Calibrate;
using Secondpass.Radiographs.Compare;
using Secondpass.Radiographs.Draw;
using Secondpass.Radiographs.Read;
using Secondpass.Radiographs.Straighten;

namespace Secondpass.Tests.Radiographs.Straighten;

public sealed class FilmStraightenerTests
{
    private static readonly byte[] Photograph = PhotographOfFilm.File();

    private static readonly StraightenedFilm Straight = Straighten(PhotographOfFilm.Corners).Value;

    private static readonly Radiograph Film = FilmReader.Read(Straight.File).Value;

    // Four corners as a camera may see them: each of a rectangle's moved by up to a fifth of its side.
    private static readonly Gen<PixelPoint[]> View = Gen.Double[-150, 150].Array[8].Select(by => new PixelPoint[]
    {
        new(300 + by[0], 300 + by[1]), new(1060 + by[2], 300 + by[3]), new(1060 + by[4], 1300 + by[5]), new(300 + by[6], 1300 + by[7]),
    });

    [Fact]
    public void A_length_on_a_photograph_taken_askew_is_read_as_long_as_it_is()
    {
        var scale = FilmScale.Choose(Film, null).Value.Scale!;
        var (upper, lower) = (PhotographOfFilm.Dot(Film, upper: true), PhotographOfFilm.Dot(Film, upper: false));

        // A fifth of a pixel: the dots' edges are drawn to whole pixels of the photograph; their centres are found finer.
        Assert.Equal(20, upper.DistanceTo(lower) * scale.MillimetresPerPixel, 0.2 * scale.MillimetresPerPixel);
        Assert.Equal(PhotographOfFilm.Upper.X, (upper.X + 0.5) * scale.MillimetresPerPixel, 0.2 * scale.MillimetresPerPixel);
        Assert.Equal(PhotographOfFilm.Lower.Y, (lower.Y + 0.5) * scale.MillimetresPerPixel, 0.2 * scale.MillimetresPerPixel);
        Assert.Equal(PhotographOfFilm.Width, Film.Width * scale.MillimetresPerPixel, scale.MillimetresPerPixel);
        Assert.Equal(PhotographOfFilm.Height, Film.Height * scale.MillimetresPerPixel, scale.MillimetresPerPixel);
    }

    [Fact]
    public void Greys_are_linear_in_optical_density_and_a_dark_dot_stays_dark()
    {
        var upper = PhotographOfFilm.Dot(Film, upper: true);

        // Two levels: values are encoded and read in whole numbers of 16 bits.
        Assert.Equal(PhotographOfFilm.Grey(PhotographOfFilm.DotDensity), Film.Pixels[((int)upper.Y * Film.Width) + (int)upper.X], 2.0);
        Assert.Equal(PhotographOfFilm.Grey(PhotographOfFilm.Density), Film.Pixels[(Film.Height / 2 * Film.Width) + 40], 2.0);
    }

    [Fact]
    public void The_film_says_what_it_was_made_of_and_how_far_its_lengths_err()
    {
        var made = Film.Photographed!;

        Assert.Equal(FilmReader.Read(Photograph).Value.Sha256, made.PhotographSha256);
        Assert.Equal(PhotographOfFilm.Corners, made.Corners);
        Assert.Equal((new Millimetres(31), new Millimetres(41)), (made.Width, made.Height));
        Assert.Equal(["This film was straightened from a photograph: its greys went through a light box and a camera, and it may have lain face down. Check left and right."], Film.Notices);
        Assert.Equal(
            [string.Create(CultureInfo.InvariantCulture, $"The scale is from a photograph: marks ±{1.96 * made.MarkDeviationPixels:0.#} px and the film's size give ±{196 * made.LengthDeviationShare:0.#} % of a length.")],
            FilmScale.Choose(Film, null).Value.Notices);
        var scale = FilmScale.Choose(Film, null).Value.Scale!;
        Assert.Equal(CalibrationSource.Photograph, scale.Source);
        Assert.Equal(double.Hypot(0.006, made.LengthDeviationShare), scale.DeviationShare, 1e-12);
    }

    [Fact]
    public void The_interval_of_a_length_is_wider_than_on_a_film_from_a_sensor()
    {
        var shape = new DrawnShape(DrawnKind.Length, [new(100, 100), new(100, 700)], null);
        var scale = FilmScale.Choose(Film, null).Value.Scale!;
        var sensor = Calibration.From(scale.MillimetresPerPixel, CalibrationSource.File).Value;

        var figure = DrawnMeasurer.Measure(Film, scale, shape).Value.Figures[0];

        Assert.Equal(1.96 * scale.DeviationShare * figure.Value.Value, figure.FromScale, 1e-9);
        Assert.True(figure.FromScale > 1.5 * DrawnMeasurer.Measure(Film, sensor, shape).Value.Figures[0].FromScale);
    }

    [Fact]
    public void Any_view_of_one_film_gives_the_same_lengths() => Gen.Select(View, Gen.Double[1, 30], Gen.Double[1, 40], Gen.Double[1, 30], Gen.Double[1, 40]).Sample((corners, x1, y1, x2, y2) =>
    {
        var map = PerspectiveMap.ToCorners(31, 41, corners);
        var (one, other) = (map.Of(map.Seen(x1, y1)), map.Of(map.Seen(x2, y2)));

        // Rounding only: numbers of a thousand in double precision.
        Assert.Equal(double.Hypot(x2 - x1, y2 - y1), double.Hypot(other.X - one.X, other.Y - one.Y), 1e-8);
        Assert.Equal(0, map.Seen(31, 41).DistanceTo(corners[2]), 1e-8);
    });

    [Fact]
    public void The_order_of_the_marks_changes_nothing() => Gen.Select(View, Gen.Shuffle(new[] { 0, 1, 2, 3 })).Sample((corners, order) =>
    {
        var photograph = new Radiograph(1400, 1600, new ushort[1400 * 1600], 255, FilmFormat.Jpeg, new string('0', 64));

        Assert.Equal(corners, FilmCorners.InOrder(photograph, [.. order.Select(i => corners[i])]).Value);
    });

    [Fact]
    public void Marks_set_in_any_order_make_the_same_file() =>
        Assert.True(Straighten([.. PhotographOfFilm.Corners.Reverse()]).Value.File.Span.SequenceEqual(Straight.File.Span));

    [Fact]
    public void How_far_lengths_err_agrees_with_twenty_thousand_sets_of_marks_and_sizes()
    {
        const double deviation = 3;
        var corners = PhotographOfFilm.Corners;
        var random = new Random(5);
        foreach (var (from, to) in new[] { ((9.0, 10.0), (21.0, 26.0)), ((15.0, 20.0), (16.0, 20.0)), ((4.0, 5.0), (4.0, 36.0)) })
        {
            var map = PerspectiveMap.ToCorners(31, 41, corners);
            var (one, other) = (map.Seen(from.Item1, from.Item2), map.Seen(to.Item1, to.Item2));
            double sum = 0, squares = 0;
            const int draws = 20_000;
            for (var i = 0; i < draws; i++)
            {
                var moved = PerspectiveMap.ToCorners(
                    31 + (0.25 * Normal(random)),
                    41 + (0.25 * Normal(random)),
                    [.. corners.Select(corner => corner + new PixelPoint(deviation * Normal(random), deviation * Normal(random)))]);
                var (a, b) = (moved.Of(one), moved.Of(other));
                var length = double.Hypot(b.X - a.X, b.Y - a.Y);
                (sum, squares) = (sum + length, squares + (length * length));
            }

            var drawn = Math.Sqrt((squares / draws) - Math.Pow(sum / draws, 2));
            var told = LengthsFromMarks.Deviation(corners, 31, 41, deviation, from, to);

            // 0.5 % by the number of draws, and what is beyond first order.
            Assert.Equal(1, told / drawn, 0.03);
            Assert.True(told <= LengthsFromMarks.WorstShare(corners, 31, 41, deviation) * double.Hypot(to.Item1 - from.Item1, to.Item2 - from.Item2));
        }
    }

    [Fact]
    public void Marks_that_lie_nearly_on_a_line_are_refused()
    {
        var refusal = Straighten([new(120, 90), new(640, 60), new(395, 440), new(60, 760)]).Refusal;

        Assert.Equal("not_corners", refusal.Code);
        Assert.Equal("Set one mark on each corner; no three of them lie nearly on a line, and none inside the others.", refusal.Remedy);
    }

    [Fact]
    public void A_mark_inside_the_other_three_is_refused()
    {
        var refusal = Straighten([new(120, 90), new(640, 60), new(250, 300), new(60, 760)]).Refusal;

        Assert.Equal("not_corners", refusal.Code);
        Assert.StartsWith("The four marks are not a film’s corners: at (250, 300) they make an angle of ", refusal.Reason, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(3, "not_four_corners", "A film has four corners; 3 are marked.")]
    [InlineData(5, "not_four_corners", "A film has four corners; 5 are marked.")]
    public void Another_number_of_marks_than_four_is_refused(int count, string code, string reason)
    {
        var refusal = Straighten([.. Enumerable.Repeat(PhotographOfFilm.Corners, 2).SelectMany(corners => corners).Take(count)]).Refusal;

        Assert.Equal((code, reason), (refusal.Code, refusal.Reason));
    }

    [Fact]
    public void Marks_outside_the_photograph_and_marks_on_one_place_are_refused()
    {
        Assert.Equal(
            "A mark at (900, 60) lies outside the photograph of 800 × 920 pixels.",
            Straighten([new(120, 90), new(900, 60), new(700, 850), new(60, 760)]).Refusal.Reason);
        Assert.Equal(
            "Two corners are marked 5 pixels apart; a side of a film needs at least 64.",
            Straighten([new(120, 90), new(124, 87), new(700, 850), new(60, 760)]).Refusal.Reason);
    }

    [Theory]
    [InlineData(27, 54, "size_does_not_fit", "The marked film is 1.26 times as long as it is wide; a film of this size is 2.00 times.")]
    [InlineData(31, 410, "implausible_film_size", "An intra-oral film has no side of 410 mm (10 to 100 mm).")]
    public void A_size_that_the_marks_do_not_fit_is_refused(double one, double other, string code, string reason)
    {
        var refusal = FilmStraightener.Straighten(Photograph, PhotographOfFilm.Corners, new Millimetres(one), new Millimetres(other)).Refusal;

        Assert.Equal((code, reason), (refusal.Code, refusal.Reason));
    }

    [Fact]
    public void A_film_seen_as_a_square_is_refused_for_its_long_side_is_not_known()
    {
        var refusal = Straighten([new(100, 100), new(600, 100), new(600, 610), new(100, 610)]).Refusal;

        Assert.Equal(("long_side_not_seen", "Which side is the long one can’t be told: the marked sides are as 1 to 1.02."), (refusal.Code, refusal.Reason));
    }

    [Fact]
    public void A_film_that_was_straightened_is_not_straightened_again()
    {
        PixelPoint[] edges = [new(5, 5), new(Film.Width - 5, 5), new(Film.Width - 5, Film.Height - 5), new(5, Film.Height - 5)];

        Assert.Equal("straightened_already", FilmStraightener.Straighten(Straight.File, edges, new Millimetres(31), new Millimetres(41)).Refusal.Code);
    }

    [Fact]
    public void What_is_left_is_not_read_off_a_photograph()
    {
        var refusal = FilmComparer.Compare(new ComparisonRequest(Film, Film, null, null, [], AfterState.Removed, new Dictionary<string, AfterState>(), [])).Refusal;

        Assert.Equal("film_from_photograph", refusal.Code);
        Assert.StartsWith("Both films were straightened from a photograph.", refusal.Reason, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("")]
    [InlineData("0123 1 2")]
    [InlineData("ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff 1 2 3 4 5 6 7 8 31 41 3 NaN")]
    [InlineData("ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff 1 2 3 4 5 6 7 8 -31 41 3 0.02")]
    [InlineData("ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff 1 2 3 4 5 6 7 8 31 41 3 2")]
    public void A_text_that_cannot_be_right_is_left_out_as_a_foreign_one(string text)
    {
        byte[] block = [.. "Straightened photograph of a film\0"u8, .. System.Text.Encoding.ASCII.GetBytes(text)];

        Assert.Null(FilmReader.Read(GreyPng.Write(100, [.. Enumerable.Range(0, 10_000).Select(i => (ushort)i)], 20_000, block)).Value.Photographed);
    }

    private static Answer<StraightenedFilm> Straighten(PixelPoint[] marks) =>
        FilmStraightener.Straighten(Photograph, marks, new Millimetres(41), new Millimetres(31));

    private static double Normal(Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
