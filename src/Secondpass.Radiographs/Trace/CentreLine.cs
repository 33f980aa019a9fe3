using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Pixels;

namespace Secondpass.Radiographs.Trace;

/// <summary>Moves a path found pixel by pixel onto the middle of the filling, smoothly, to a fraction of a pixel.</summary>
internal static class CentreLine
{
    private const double SpacingPixels = 2;
    private const double Stiffness = 120;
    private const double WeightUnfilled = 0.0006;
    private const double WeightOfEnd = 3;
    private const double WeightOfHardPin = 1e4;

    /// <summary>Refines a path.</summary>
    /// <param name="image">Grey values; filling is brighter than dentine.</param>
    /// <param name="rough">The path found over the grid, orifice to end.</param>
    /// <param name="hardPins">Places that the path must go through.</param>
    /// <param name="fixedFirst">How many pixels from the orifice must not move, for a branch that shares its trunk; 0 for none.</param>
    public static CanalPath Refine(
        GreyImage image,
        IReadOnlyList<PixelPoint> rough,
        IReadOnlyList<PixelPoint> hardPins,
        double fixedFirst)
    {
        var end = rough[^1];
        var path = Smoothed(new CanalPath(rough), (_, point) => (point, 0.3), hardPins, end, fixedFirst);
        RodProfile? earlier = null;
        for (var round = 0; round < 3; round++)
        {
            var rods = RodProfile.Along(image, path, SpacingPixels * 1.5, 1.4, guess: earlier);
            earlier = rods;
            var here = path;
            path = Smoothed(
                here,
                (level, point) =>
                {
                    var index = Nearest(rods.LevelsPixels, level);
                    var rod = rods.Rods[index];
                    if (!rods.Filled[index])
                    {
                        return (point, WeightUnfilled);
                    }

                    var along = here.DirectionAt(level, 6);
                    var shift = Math.Clamp(rod.CentrePixels, -5, 5);
                    return (point + (new PixelPoint(along.Y, -along.X) * shift), 1);
                },
                hardPins,
                end,
                fixedFirst);
        }

        return path;
    }

    private static CanalPath Smoothed(
        CanalPath path,
        Func<double, PixelPoint, (PixelPoint Target, double Weight)> aim,
        IReadOnlyList<PixelPoint> hardPins,
        PixelPoint end,
        double fixedFirst)
    {
        var count = Math.Max(5, (int)Math.Round(path.LengthPixels / SpacingPixels, MidpointRounding.AwayFromZero) + 1);
        var x = new double[count];
        var y = new double[count];
        var weight = new double[count];
        for (var i = 0; i < count; i++)
        {
            var level = path.LengthPixels * i / (count - 1);
            var point = path.At(level);
            var (target, trust) = level < fixedFirst ? (point, WeightOfHardPin) : aim(level, point);
            x[i] = target.X;
            y[i] = target.Y;
            weight[i] = trust;
        }

        (x[^1], y[^1]) = Mix(x[^1], y[^1], weight[^1], end, WeightOfEnd);
        weight[^1] += WeightOfEnd;
        foreach (var pin in hardPins)
        {
            var index = Enumerable.Range(0, count).MinBy(i => new PixelPoint(x[i], y[i]).DistanceTo(pin));
            (x[index], y[index], weight[index]) = (pin.X, pin.Y, WeightOfHardPin);
        }

        var smoothX = Penalised.Smooth(x, weight, Stiffness);
        var smoothY = Penalised.Smooth(y, weight, Stiffness);
        var points = new List<PixelPoint>(count);
        for (var i = 0; i < count; i++)
        {
            var point = new PixelPoint(smoothX[i], smoothY[i]);
            if (points.Count == 0 || points[^1].DistanceTo(point) > 1e-6)
            {
                points.Add(point);
            }
        }

        return new CanalPath(points);
    }

    private static (double X, double Y) Mix(double x, double y, double weight, PixelPoint other, double otherWeight) =>
        (((x * weight) + (other.X * otherWeight)) / (weight + otherWeight),
        ((y * weight) + (other.Y * otherWeight)) / (weight + otherWeight));

    private static int Nearest(double[] levels, double level)
    {
        var spacing = levels[1] - levels[0];
        return Math.Clamp((int)Math.Round(level / spacing, MidpointRounding.AwayFromZero), 0, levels.Length - 1);
    }
}
