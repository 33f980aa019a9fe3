using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;
using Secondpass.Radiographs.Pixels;

namespace Secondpass.Radiographs.Trace;

/// <summary>Says how unequal the root's two surfaces lie beside a filling.</summary>
internal static class OffCentreFinder
{
    private const double SteadyOverMillimetres = 1.5;

    /// <summary>The greatest steady difference, or null where the surfaces are not clear over 1.5 mm.</summary>
    public static OffCentreSign? Find(RootWalls walls, CanalPath path, double millimetresPerPixel)
    {
        var (left, right) = (walls.Left, walls.Right);
        var window = (int)Math.Ceiling(SteadyOverMillimetres / millimetresPerPixel / RootWalls.LevelStepPixels);
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
