using CsCheck;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;
using Secondpass.Radiographs.Trace;

namespace Secondpass.Tests.Radiographs.Trace;

/// <summary>
/// Curvature on exact constructions. For a straight part, an arc of angle a and radius r, and a straight part of length
/// after it, Pruett's angle and radius are a and r by definition (Pruett, Clement, Carnes, J Endod 1997;23:77–85), and
/// Schneider's angle (Schneider, Oral Surg 1971;32:271–275) is that of the chord from the arc's start to the end:
/// atan2(r(1 − cos a) + after·sin a, r·sin a + after·cos a).
/// </summary>
public sealed class CanalCurveTests
{
    [Theory]
    [InlineData(200, 167, 60, 100)]
    [InlineData(250, 67, 60, 80)]
    [InlineData(150, 333, 30, 120)]
    [InlineData(220, 167, 45, 0)]
    [InlineData(100, 500, 20, 150)]
    public void Finds_angles_and_radius_of_an_exact_arc(double straight, double radius, double turn, double after)
    {
        var curve = CanalCurve.Fit(RodFilm.StraightArcStraight(new PixelPoint(300, 50), straight, radius, turn, after));

        Assert.InRange(curve.PruettDegrees.Value, turn - 0.3, turn + 0.3);
        Assert.InRange(curve.PruettRadiusPixels.Value / radius, 0.985, 1.015);
        Assert.InRange(curve.SchneiderDegrees.Value, Schneider(radius, turn, after) - 0.3, Schneider(radius, turn, after) + 0.3);
    }

    [Fact]
    public void Finds_any_arc_wherever_it_lies() =>
        Gen.Select(Gen.Double[120, 260], Gen.Double[70, 400], Gen.Double[20, 70], Gen.Double[0, 150]).Sample(
            (straight, radius, turn, after) =>
            {
                var curve = CanalCurve.Fit(RodFilm.StraightArcStraight(new PixelPoint(300, 50), straight, radius, turn, after));
                Assert.InRange(curve.PruettDegrees.Value, turn - 0.6, turn + 0.6);
                Assert.InRange(curve.PruettRadiusPixels.Value / radius, 0.97, 1.03);
                Assert.InRange(curve.SchneiderDegrees.Value, Schneider(radius, turn, after) - 0.6, Schneider(radius, turn, after) + 0.6);
            },
            iter: 300);

    // Radius 2 to 12 mm and 15° to 90°, wherever the film shows it and however large; the polyline's own chords lie 0.001 pixels inside the arc.
    [Fact]
    public void Gives_radius_and_angle_of_any_exact_curve_turned_and_enlarged_at_will() =>
        Gen.Select(Gen.Double[120, 260], Gen.Double[2, 12], Gen.Double[15, 90], Gen.Double[60, 150], Gen.Double[0, 360], Gen.Double[0.5, 2]).Sample(
            (straight, radiusMillimetres, turn, after, rotation, enlarged) =>
            {
                var radius = radiusMillimetres / 0.03;
                var (sine, cosine) = Math.SinCos(rotation * Math.PI / 180);
                var path = RodFilm.StraightArcStraight(new PixelPoint(300, 50), straight, radius, turn, after);
                var moved = new CanalPath([.. path.Points.Select(p => new PixelPoint((cosine * p.X) - (sine * p.Y), (sine * p.X) + (cosine * p.Y)) * enlarged)]);
                var curve = CanalCurve.Fit(moved);
                Assert.InRange(curve.PruettDegrees.Value, turn - 0.1, turn + 0.1);
                Assert.InRange(curve.PruettRadiusPixels.Value / (radius * enlarged), 0.993, 1.007);
            },
            iter: 400);

    // The canal of a tapering filling with two voids that each take 2.5 pixels off its middle, and of which the last fifth is empty.
    [Fact]
    public void A_void_that_moves_the_middle_of_a_filling_aside_does_not_change_its_radius()
    {
        const double Radius = 250;
        var path = RodFilm.StraightArcStraight(new PixelPoint(300, 50), 200, Radius, 40, 60);
        var end = 0.8 * path.LengthPixels;
        bool IsVoid(double level) => level is (> 120 and < 145) or (> 250 and < 275);
        var samples = Enumerable.Range(0, (int)(path.LengthPixels / 3)).Select(i => 3.0 * i).Select(level => new FillingSample(
            level,
            level > end ? null : new Estimate(30 - (0.04 * level) - (IsVoid(level) ? 5 : 0), new Interval(0, 40)),
            IsVoid(level) ? 2.5 : 0,
            100)).ToArray();
        var filling = new FillingProfile(samples, 0, new Estimate(end, new Interval(end - 3, end + 3)));

        var curve = CanalCurve.FitFilling(path, filling, [.. path.Points.Select(_ => 0.7)]);

        Assert.InRange(curve.PruettRadiusPixels.Value / Radius, 0.99, 1.01);
    }

    [Fact]
    public void A_straight_canal_has_no_angle()
    {
        var curve = CanalCurve.Fit(new CanalPath([new PixelPoint(10, 10), new PixelPoint(40, 200), new PixelPoint(70, 390)]));

        Assert.InRange(curve.SchneiderDegrees.Value, 0, 0.2);
        Assert.InRange(curve.SagittaPixels, 0, 0.2);
    }

    // r 5 mm and 60° give an arc of 5.236 mm, r 2 mm and 60° one of 2.094 mm: arc = radius × angle in radians.
    [Theory]
    [InlineData(5.0, 5.236)]
    [InlineData(2.0, 2.094)]
    public void The_arc_of_60_degrees_has_the_length_of_its_definition(double radiusMillimetres, double arcMillimetres)
    {
        var scale = 0.03;
        var curve = CanalCurve.Fit(RodFilm.StraightArcStraight(new PixelPoint(300, 50), 200, radiusMillimetres / scale, 60, 120));

        Assert.InRange((curve.ReturnsAtPixels - curve.LeavesAtPixels) * scale, arcMillimetres - 0.05, arcMillimetres + 0.05);
    }

    [Fact]
    public void Turning_or_enlarging_the_film_leaves_angles_as_they_are()
    {
        var path = RodFilm.StraightArcStraight(new PixelPoint(300, 50), 200, 150, 40, 90);
        var turned = new CanalPath([.. path.Points.Select(p => new PixelPoint((0.8 * p.X) - (0.6 * p.Y) + 400, (0.6 * p.X) + (0.8 * p.Y)) * 1.3)]);

        var (one, other) = (CanalCurve.Fit(path), CanalCurve.Fit(turned));

        Assert.Equal(one.PruettDegrees.Value, other.PruettDegrees.Value, 0.05);
        Assert.Equal(one.SchneiderDegrees.Value, other.SchneiderDegrees.Value, 0.05);
        Assert.Equal(1.3, other.PruettRadiusPixels.Value / one.PruettRadiusPixels.Value, 0.005);
    }

    private static double Schneider(double radius, double turnDegrees, double after)
    {
        var turn = turnDegrees * Math.PI / 180;
        return Math.Atan2(
            (radius * (1 - Math.Cos(turn))) + (after * Math.Sin(turn)),
            (radius * Math.Sin(turn)) + (after * Math.Cos(turn))) * 180 / Math.PI;
    }
}
