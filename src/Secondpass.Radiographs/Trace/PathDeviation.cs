using Secondpass.Domain.Anatomy;

namespace Secondpass.Radiographs.Trace;

/// <summary>How far a traced path may lie beside the middle of its canal: standard deviations, measured on simulated films of seeds 3000 to 3119.</summary>
internal static class PathDeviation
{
    /// <summary>Where the middle of a filling is seen, in pixels.</summary>
    public const double FilledPixels = 0.7;

    /// <summary>Where a mark was set by hand, in pixels.</summary>
    private const double MarkPixels = 2.2;

    /// <summary>What a way without a filling strays, as a share of the distance to the nearest place that holds it.</summary>
    private const double StrayShare = 0.15;

    /// <summary>The same between marks where a filling beside the canal shows its course.</summary>
    private const double StrayBesideShare = 0.05;

    /// <summary>The deviation at each of a path's points, in pixels.</summary>
    /// <param name="path">The path.</param>
    /// <param name="rods">The filling along it.</param>
    /// <param name="pins">The marks: they hold a path where no filling does.</param>
    /// <param name="besideFilling">Whether the path runs beside a filling, as that does.</param>
    public static double[] Along(CanalPath path, RodProfile rods, IReadOnlyList<Pin> pins, bool besideFilling = false)
    {
        var spacing = rods.SpacingPixels;
        var held = new List<(double Level, double Deviation)> { (0, MarkPixels), (path.LengthPixels, MarkPixels) };
        for (var i = 0; i < rods.Filled.Length; i++)
        {
            if (rods.Filled[i])
            {
                held.Add((rods.LevelsPixels[i], FilledPixels));
            }
        }

        foreach (var pin in pins)
        {
            var nearest = Enumerable.Range(0, path.Points.Count).MinBy(i => path.Points[i].DistanceTo(pin.At));
            held.Add((path.LevelsPixels[nearest], MarkPixels));
        }

        held.Sort();
        var deviations = new double[path.Points.Count];
        var after = 0;
        for (var i = 0; i < deviations.Length; i++)
        {
            var level = path.LevelsPixels[i];
            while (after < held.Count - 1 && held[after].Level < level)
            {
                after++;
            }

            var (from, to) = (held[Math.Max(0, after - 1)], held[after]);
            var share = to.Level > from.Level ? Math.Clamp((level - from.Level) / (to.Level - from.Level), 0, 1) : 0;
            var stray = (besideFilling ? StrayBesideShare : StrayShare) * Math.Max(0, Math.Min(level - from.Level, to.Level - level) - spacing);
            deviations[i] = double.Hypot(from.Deviation + (share * (to.Deviation - from.Deviation)), stray);
        }

        return deviations;
    }
}
