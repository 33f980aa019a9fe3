using Secondpass.Domain.Films;
using Secondpass.Radiographs.Draw;

namespace Secondpass.Tests.Radiographs.Draw;

public sealed class DrawnMeasurerTests
{
    [Fact]
    public void A_straight_length_is_told_in_mm_with_what_clicks_and_scale_leave_open()
    {
        var length = OnFilm.Measure(DrawnKind.Length, [new(100, 100), new(400, 500)]).Value.Of(DrawnQuantity.Length);

        // 500 pixels of 0.03 mm; two clicks of 1.8 pixels along it, and 0.6 % of scale.
        Assert.Equal(15, length.Value.Value, 1e-9);
        Assert.Equal(1.96 * Math.Sqrt(2) * 1.8 * 0.03, length.FromClicks, 1e-6);
        Assert.Equal(1.96 * 0.006 * 15, length.FromScale, 1e-9);
        Assert.Equal(double.Hypot(length.FromClicks, length.FromScale), length.Value.Interval.High - 15, 1e-9);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(30)]
    [InlineData(90)]
    [InlineData(135)]
    [InlineData(180)]
    public void An_angle_of_three_points_is_the_one_at_the_second(double degrees)
    {
        var (sin, cos) = Math.SinCos(double.DegreesToRadians(degrees));
        var angle = OnFilm.Measure(DrawnKind.Angle, [new(700, 600), new(500, 600), new(500 + (200 * cos), 600 + (200 * sin))]).Value.Of(DrawnQuantity.Angle);

        Assert.Equal(degrees, angle.Value.Value, 1e-6);
        Assert.InRange(angle.FromClicks, 0.5, 3);
        Assert.InRange(angle.Value.Interval.Low, 0, degrees);
        Assert.InRange(angle.Value.Interval.High, degrees, 180);
        Assert.Equal(0, angle.FromScale);
    }

    [Theory]
    [InlineData(30, 30)]
    [InlineData(90, 90)]
    [InlineData(150, 30)]
    [InlineData(-30, 30)]
    [InlineData(-170, 10)]
    public void The_angle_between_two_lines_is_the_sharp_one_whichever_way_they_were_drawn(double degrees, double sharp)
    {
        var (sin, cos) = Math.SinCos(double.DegreesToRadians(degrees));
        var angle = OnFilm.Measure(DrawnKind.AngleOfLines, [new(100, 200), new(300, 200), new(500, 600), new(500 + (200 * cos), 600 + (200 * sin))]).Value;

        Assert.Equal(sharp, angle.Of(DrawnQuantity.Angle).Value.Value, 1e-6);
    }

    [Fact]
    public void An_angle_needs_no_scale() =>
        Assert.True(DrawnMeasurer.Measure(OnFilm.Film, null, new DrawnShape(DrawnKind.Angle, [new(700, 600), new(500, 600), new(500, 900)], null)).IsGiven);

    // The curve through 12 clicks stays within 0.5 % of the circle's radius, and eight chords each lose 0.1 %.
    [Fact]
    public void A_round_lesion_has_the_area_diameters_and_way_round_of_a_circle()
    {
        var lesion = OnFilm.Measure(DrawnKind.Lesion, OnFilm.Ellipse(100, 100, 12)).Value;

        Assert.Equal(Math.PI * 9, lesion.Of(DrawnQuantity.Area).Value.Value, 0.01 * Math.PI * 9);
        Assert.Equal(6, lesion.Of(DrawnQuantity.LargestDiameter).Value.Value, 0.01 * 6);
        Assert.Equal(6, lesion.Of(DrawnQuantity.DiameterAcross).Value.Value, 0.01 * 6);
        Assert.Equal(Math.PI * 6, lesion.Of(DrawnQuantity.Perimeter).Value.Value, 0.01 * Math.PI * 6);
    }

    // Way round by Ramanujan's second approximation, which is exact to far below the tolerance here.
    [Theory]
    [InlineData(0)]
    [InlineData(37)]
    public void An_oval_lesion_has_the_area_diameters_and_way_round_of_an_ellipse(double turnDegrees)
    {
        var lesion = OnFilm.Measure(DrawnKind.Lesion, OnFilm.Ellipse(150, 100, 24, turnDegrees)).Value;

        var (a, b) = (4.5, 3.0);
        var h = Math.Pow((a - b) / (a + b), 2);
        Assert.Equal(Math.PI * a * b, lesion.Of(DrawnQuantity.Area).Value.Value, 0.005 * Math.PI * a * b);
        Assert.Equal(2 * a, lesion.Of(DrawnQuantity.LargestDiameter).Value.Value, 0.005 * a);
        Assert.Equal(2 * b, lesion.Of(DrawnQuantity.DiameterAcross).Value.Value, 0.01 * b);
        Assert.Equal(Math.PI * (a + b) * (1 + (3 * h / (10 + Math.Sqrt(4 - (3 * h))))), lesion.Of(DrawnQuantity.Perimeter).Value.Value, 0.005 * 2 * Math.PI * a);
    }

    // A hand that errs as assumed: 95 % of what it would give lies in the interval that one drawing says. 1000 drawings leave ±1.4 %.
    [Theory]
    [InlineData(DrawnQuantity.Area)]
    [InlineData(DrawnQuantity.LargestDiameter)]
    [InlineData(DrawnQuantity.DiameterAcross)]
    [InlineData(DrawnQuantity.Perimeter)]
    public void Drawn_a_thousand_times_by_the_same_hand_nineteen_of_twenty_lie_in_the_interval_of_clicks(DrawnQuantity quantity)
    {
        var points = OnFilm.Ellipse(150, 90, 10, 20);
        var figure = OnFilm.Measure(DrawnKind.Lesion, points).Value.Of(quantity);
        var random = new Random(11);

        var inside = Enumerable.Range(0, 1000).Count(_ =>
            Math.Abs(OnFilm.Measure(DrawnKind.Lesion, [.. points.Select(point => point + (new PixelPoint(Normal(), Normal()) * 1.8))]).Value.Of(quantity).Value.Value - figure.Value.Value) <= figure.FromClicks);

        Assert.InRange(inside, 910, 985);

        double Normal() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
    }

    [Fact]
    public void An_area_takes_the_error_of_the_scale_twice()
    {
        var area = OnFilm.Measure(DrawnKind.Lesion, OnFilm.Ellipse(100, 100, 12)).Value.Of(DrawnQuantity.Area);

        Assert.Equal(2 * 1.96 * 0.006 * area.Value.Value, area.FromScale, 1e-9);
    }

    [Fact]
    public void A_double_click_is_one_point() => Assert.Equal(
        OnFilm.Measure(DrawnKind.Lesion, OnFilm.Ellipse(100, 100, 12)).Value.Of(DrawnQuantity.Area).Value,
        OnFilm.Measure(DrawnKind.Lesion, [.. OnFilm.Ellipse(100, 100, 12).SelectMany(point => new[] { point, point })]).Value.Of(DrawnQuantity.Area).Value);

    [Fact]
    public void Refuses_an_outline_that_crosses_itself_and_names_the_sides() => Refuses(
        DrawnKind.Lesion,
        [new(100, 100), new(300, 300), new(300, 100), new(100, 300)],
        "outline_crosses_itself",
        "The outline crosses itself: its side from point 1 to 2 meets the one from point 3 to 4.");

    [Fact]
    public void Refuses_an_outline_of_fewer_than_three_points() => Refuses(
        DrawnKind.Lesion,
        [new(100, 100), new(300, 300)],
        "outline_too_short",
        "The outline has 2 points that lie apart; it needs at least three.");

    [Fact]
    public void Refuses_an_outline_without_width() => Refuses(
        DrawnKind.Lesion,
        [new(100, 100), new(200, 100), new(300, 100)],
        "outline_too_narrow",
        "The outline is 0 pixels wide; where a click falls is uncertain by 5 pixels between two.");

    [Fact]
    public void Refuses_an_outline_of_too_many_points() => Refuses(
        DrawnKind.Lesion,
        OnFilm.Ellipse(300, 300, 101),
        "outline_too_long",
        "The outline has 101 points; at most 100 are taken.");

    [Theory]
    [InlineData(1200, 50, "A point at (1200, 50) lies outside the film of 1000 × 1300 pixels.")]
    [InlineData(50, -2.25, "A point at (50, -2.3) lies outside the film of 1000 × 1300 pixels.")]
    [InlineData(double.NaN, 5, "A point at (NaN, 5) lies outside the film of 1000 × 1300 pixels.")]
    public void Refuses_a_point_outside_the_film_and_quotes_it(double x, double y, string reason) =>
        Refuses(DrawnKind.Length, [new(100, 100), new(x, y)], "point_outside_film", reason);

    [Fact]
    public void Refuses_a_length_that_is_shorter_than_its_own_error() => Refuses(
        DrawnKind.Length,
        [new(100, 100), new(103, 100)],
        "points_too_close",
        "Two points are 3 pixels apart; where a click falls is uncertain by 5 pixels between two.");

    [Theory]
    [InlineData(DrawnKind.Length, 1, "A length has 2 points; 1 is set.")]
    [InlineData(DrawnKind.Angle, 2, "An angle has 3 points; 2 are set.")]
    [InlineData(DrawnKind.AngleOfLines, 3, "An angle between two lines has 4 points; 3 are set.")]
    [InlineData(DrawnKind.KnownLength, 0, "A known length has 2 points; 0 are set.")]
    public void Refuses_what_is_not_drawn_to_its_end(DrawnKind kind, int set, string reason) =>
        Refuses(kind, [.. Enumerable.Range(0, set).Select(i => new PixelPoint(100 + (100 * i), 100 + (40 * i * i)))], "drawing_incomplete", reason);

    [Theory]
    [InlineData(DrawnKind.Length)]
    [InlineData(DrawnKind.Lesion)]
    public void Without_a_scale_nothing_is_told_in_millimetres(DrawnKind kind)
    {
        var points = kind == DrawnKind.Length ? [new(100, 100), new(300, 300)] : OnFilm.Ellipse(100, 100, 8);

        Assert.Equal("no_scale", DrawnMeasurer.Measure(OnFilm.Film, null, new DrawnShape(kind, points, null)).Refusal.Code);
    }

    private static void Refuses(DrawnKind kind, IReadOnlyList<PixelPoint> points, string code, string reason)
    {
        var refusal = OnFilm.Measure(kind, points).Refusal;

        Assert.Equal(code, refusal.Code);
        Assert.Equal(reason, refusal.Reason);
        Assert.NotEmpty(refusal.Remedy);
    }
}
