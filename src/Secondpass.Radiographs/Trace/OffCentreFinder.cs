using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;
using Secondpass.Radiographs.Pixels;

namespace Secondpass.Radiographs.Trace;

/// <summary>Finds the root's two surfaces beside a filling and says how unequal they are.</summary>
internal static class OffCentreFinder
{
    private const double LevelStepPixels = 4;
    private const double LeastWallMillimetres = 0.35;
    private const double GreatestWallMillimetres = 3.5;
    private const double SteadyOverMillimetres = 1.5;

    /// <summary>The greatest steady difference, or null where the surfaces are not clear over 1.5 mm.</summary>
    public static OffCentreSign? Find(GreyImage image, CanalPath path, RodProfile rods, double millimetresPerPixel)
    {
        var left = RootSurface.Find(image, path, rods, +1, LevelStepPixels, LeastWallMillimetres / millimetresPerPixel, GreatestWallMillimetres / millimetresPerPixel);
        var right = RootSurface.Find(image, path, rods, -1, LevelStepPixels, LeastWallMillimetres / millimetresPerPixel, GreatestWallMillimetres / millimetresPerPixel);
        var window = (int)Math.Ceiling(SteadyOverMillimetres / millimetresPerPixel / LevelStepPixels);
        OffCentreSign? best = null;
        for (var first = 0; first + window <= left.Levels.Length; first++)
        {
            var differences = new List<double>(window);
            for (var i = first; i < first + window; i++)
            {
                if (left.Clear[i] && right.Clear[i])
                {
                    differences.Add((left.WallPixels[i] - right.WallPixels[i]) * millimetresPerPixel);
                }
            }

            if (differences.Count < 0.8 * window)
            {
                continue;
            }

            var middle = Ranks.Median([.. differences]);
            var spread = Ranks.RobustDeviation([.. differences]);
            var half = 1.96 * Math.Sqrt((spread * spread / 3) + 0.0036);
            if (spread < 0.35 && (best is null || Math.Abs(middle) > best.DifferenceMillimetres.Value))
            {
                var size = Math.Abs(middle);
                best = new OffCentreSign(
                    Estimate.Within(size, half),
                    (path.LengthPixels - left.Levels[first + (window / 2)]) * millimetresPerPixel,
                    size >= FilmSigns.OffCentreDifference.Value,
                    middle > 0);
            }
        }

        return best;
    }
}
