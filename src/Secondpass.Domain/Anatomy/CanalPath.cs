using Secondpass.Domain.Films;

namespace Secondpass.Domain.Anatomy;

/// <summary>The centre line of a canal as it appears on one film, from the orifice to the end of one branch, in pixels of that film.</summary>
/// <remarks>
/// Not <see cref="CanalClicks"/>, which are the few marks it was found through. A film shows a projection:
/// curvature towards or away from the film is hidden, so lengths and curvatures are lower bounds.
/// A place on it is given by its level: the length along the path from the orifice.
/// </remarks>
public sealed class CanalPath
{
    private readonly PixelPoint[] points;
    private readonly double[] levels;

    /// <summary>Makes a path from points in order.</summary>
    /// <param name="points">At least two points from orifice to end; neighbours must differ.</param>
    /// <exception cref="ArgumentException">Fewer than two points, or two equal neighbours.</exception>
    public CanalPath(IReadOnlyList<PixelPoint> points)
    {
        ArgumentNullException.ThrowIfNull(points);
        if (points.Count < 2)
        {
            throw new ArgumentException("A path has at least two points.", nameof(points));
        }

        this.points = [.. points];
        levels = new double[this.points.Length];
        for (var i = 1; i < levels.Length; i++)
        {
            var step = this.points[i].DistanceTo(this.points[i - 1]);
            if (step <= 0)
            {
                throw new ArgumentException("Two neighbouring points of a path are the same.", nameof(points));
            }

            levels[i] = levels[i - 1] + step;
        }
    }

    /// <summary>The points from orifice to end.</summary>
    public IReadOnlyList<PixelPoint> Points => points;

    /// <summary>Length from orifice to end, in pixels.</summary>
    public double LengthPixels => levels[^1];

    /// <summary>The level of each of <see cref="Points"/>, in pixels from the orifice.</summary>
    public IReadOnlyList<double> LevelsPixels => levels;

    /// <summary>The place at a level; levels outside the path are taken to its ends.</summary>
    /// <param name="levelPixels">Pixels along the path from the orifice.</param>
    public PixelPoint At(double levelPixels)
    {
        var after = SegmentEnd(levelPixels);
        var share = Math.Clamp((levelPixels - levels[after - 1]) / (levels[after] - levels[after - 1]), 0, 1);
        return points[after - 1].Towards(points[after], share);
    }

    /// <summary>The direction of the path at a level, as a vector of length 1 towards the end.</summary>
    /// <param name="levelPixels">Pixels along the path from the orifice.</param>
    /// <param name="reachPixels">Half the length of path over which the direction is taken, in pixels.</param>
    public PixelPoint DirectionAt(double levelPixels, double reachPixels = 2)
    {
        var from = At(Math.Max(0, levelPixels - reachPixels));
        var to = At(Math.Min(LengthPixels, levelPixels + reachPixels));
        var distance = from.DistanceTo(to);
        if (distance > 0)
        {
            return (to - from) * (1 / distance);
        }

        var after = SegmentEnd(levelPixels);
        return (points[after] - points[after - 1]) * (1 / (levels[after] - levels[after - 1]));
    }

    private int SegmentEnd(double levelPixels)
    {
        var found = Array.BinarySearch(levels, levelPixels);
        var after = found >= 0 ? found : ~found;
        return Math.Clamp(after, 1, levels.Length - 1);
    }
}
