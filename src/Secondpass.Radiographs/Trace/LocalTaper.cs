using Secondpass.Radiographs.Pixels;

namespace Secondpass.Radiographs.Trace;

/// <summary>What a filling would measure at a level, by the taper of what lies around it: a void or a bulge there doesn't decide.</summary>
internal static class LocalTaper
{
    /// <summary>Reach to either side, in pixels.</summary>
    private const double ReachPixels = 70;

    /// <summary>Half of the levels from which a taper can be told.</summary>
    private const int LeastHalf = 4;

    /// <summary>The usual value at a level; null where too few levels lie around it.</summary>
    /// <param name="levelsPixels">Levels, ascending.</param>
    /// <param name="values">What was measured at each.</param>
    /// <param name="levelPixels">The level asked for.</param>
    /// <param name="share">Which of the values around, taken to this level by their taper, counts as usual: 0.5 is the middle one.</param>
    public static double? Usual(double[] levelsPixels, double[] values, double levelPixels, double share)
    {
        var first = Array.FindIndex(levelsPixels, level => level >= levelPixels - ReachPixels);
        var last = Array.FindLastIndex(levelsPixels, level => level <= levelPixels + ReachPixels);
        var half = (last - first + 1) / 2;
        if (first < 0 || half < LeastHalf)
        {
            return null;
        }

        // Half a window apart, so that a void in one half doesn't decide.
        var slopes = new double[last - first + 1 - half];
        for (var i = 0; i < slopes.Length; i++)
        {
            slopes[i] = (values[first + i + half] - values[first + i]) / (levelsPixels[first + i + half] - levelsPixels[first + i]);
        }

        var taper = Ranks.Median(slopes);
        var here = new double[last - first + 1];
        for (var i = 0; i < here.Length; i++)
        {
            here[i] = values[first + i] + (taper * (levelPixels - levelsPixels[first + i]));
        }

        return Ranks.Quantile(here, share);
    }
}
