using CsCheck;
using Secondpass.Exchange.Pictures;

namespace Secondpass.Tests.Exchange.Pictures;

public sealed class HatchingTests
{
    private static readonly Stroke Line = new(Ink.Page, 1);

    // Cavalieri: parallel lines at a fixed distance cover a shape with length × distance = area, but for the edges.
    [Fact]
    public void Length_of_hatching_times_pitch_is_the_area_of_the_shape() =>
        Gen.Select(Gen.Double[0, 360], Gen.Double[0.5, 2], Gen.Double[60, 200], Gen.Double[60, 200], Gen.Double[-500, 500])
            .Sample((angle, pitch, width, height, shift) =>
            {
                var hatch = new HatchMark("test", [Ellipse(shift, -shift, width, height), Ellipse(shift, -shift, width / 2, height / 2)], angle, pitch, Line);
                var covered = hatch.Lines().Sum(line => double.Hypot(line.To.X - line.From.X, line.To.Y - line.From.Y)) * pitch;
                var area = Math.PI * width * height * 0.75;

                // The two ellipses' rims cut the first and last lines: at most one pitch of the longest chord each.
                return Math.Abs(covered - area) < 4 * pitch * Math.Max(width, height);
            });

    [Fact]
    public void Lines_run_in_the_direction_asked_anticlockwise_from_the_right()
    {
        var (from, to) = new HatchMark("test", [Ellipse(0, 0, 50, 50)], 45, 5, Line).Lines().First();
        var (right, left) = from.X > to.X ? (from, to) : (to, from);

        Assert.Equal(right.X - left.X, left.Y - right.Y, 1e-9);
    }

    [Fact]
    public void A_hole_stays_free()
    {
        var square = (double half) => new PicturePoint[] { new(-half, -half), new(half, -half), new(half, half), new(-half, half) };
        var hatch = new HatchMark("test", [square(10), square(5)], 0, 1, Line);

        Assert.DoesNotContain(hatch.Lines(), line => line.From.Y is > -5 and < 5 && line.From.X < 0 && line.To.X > 0);
        Assert.Contains(hatch.Lines(), line => line.From.Y is > 5 and < 10 && line.From.X < 0 && line.To.X > 0);
    }

    private static PicturePoint[] Ellipse(double x, double y, double width, double height) =>
        [.. Enumerable.Range(0, 720).Select(step => Math.SinCos(step * Math.PI / 360)).Select(turn => new PicturePoint(x + (width * turn.Cos), y + (height * turn.Sin)))];
}
