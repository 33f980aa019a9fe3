using Secondpass.Domain.Evidence;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;

namespace Secondpass.Radiographs.Trace;

/// <summary>Finds where part of a filling's section is missing: what the rays meet across it is less than its own taper lets expect.</summary>
/// <remarks>
/// A void on one side narrows the filling, one inside it makes it paler: both take from width times contrast, which is in proportion to the
/// section. Its root runs straight along a tapered filling. Limits chosen on simulated films of seeds 3000 to 3079, checked on 3100 to 3159:
/// how many are found, and how many are none, stands in docs/models/measurement.md.
/// </remarks>
internal static class VoidFinder
{
    /// <summary>Share of the section that must be missing over <see cref="LeastPixels"/>.</summary>
    private const double FoundFrom = 0.15;

    /// <summary>Share down to which the levels beside belong to the same void.</summary>
    private const double PartFrom = 0.10;

    /// <summary>Least length over which so much must be missing: three tenths of a millimetre on most films.</summary>
    private const double LeastPixels = 9;

    /// <summary>What of the filling around counts as whole, as a rank: a void takes away, little adds.</summary>
    private const double WholeRank = 0.6;

    /// <summary>Least distance from where another filling lies over it: rods fit badly just before it.</summary>
    private const double FromOverlapPixels = 15;

    /// <summary>Least distance from where a branch leaves its trunk.</summary>
    private const double AfterBranchPointPixels = 20;

    /// <summary>Least distance from the orifice, where the floor of the chamber begins.</summary>
    private const double AfterOrificePixels = 9;

    /// <summary>Least distance from the filling's end, whose tip is round.</summary>
    private const double BeforeEndPixels = 12;

    /// <summary>The voids of a branch's own filling, orifice to end.</summary>
    /// <param name="filling">The filling, with where another lies over it.</param>
    /// <param name="ownFromPixels">Level at which the branch leaves its trunk; 0 for a trunk.</param>
    public static IReadOnlyList<FillingVoid> Find(FillingProfile filling, double ownFromPixels)
    {
        var samples = filling.Samples;
        var whole = samples.Where(sample => sample is { FillingWidthPixels: not null, IsOverlapped: false } && sample.LevelPixels > ownFromPixels).ToArray();
        if (whole.Length == 0)
        {
            return [];
        }

        var levels = whole.Select(sample => sample.LevelPixels).ToArray();
        var roots = whole.Select(Root).ToArray();
        var widths = whole.Select(sample => sample.FillingWidthPixels!.Value.Value).ToArray();
        var from = Math.Max(levels[0], Math.Max(AfterOrificePixels, ownFromPixels + AfterBranchPointPixels));
        var to = levels[^1] - BeforeEndPixels;
        var spacing = samples[1].LevelPixels - samples[0].LevelPixels;
        var voids = new List<FillingVoid>();
        var run = new List<(double Level, double Missing)>();
        foreach (var sample in samples)
        {
            var level = sample.LevelPixels;
            var missing = level > from && level < to && !IsNearOverlap(samples, level) && LocalTaper.Usual(levels, roots, level, WholeRank) is > 0 and var usual
                ? 1 - Math.Pow(Root(sample) / usual, 2)
                : 0;
            if (missing > PartFrom)
            {
                run.Add((level, missing));
                continue;
            }

            Close();
        }

        Close();
        return voids;

        void Close()
        {
            if (run.Count(at => at.Missing > FoundFrom) * spacing >= LeastPixels)
            {
                voids.Add(Void(run, spacing, level => LocalTaper.Usual(levels, widths, level, WholeRank) ?? 0));
            }

            run.Clear();
        }
    }

    // The length is that along which at least half of the greatest loss is missing: it hardly depends on how deep the void is.
    private static FillingVoid Void(List<(double Level, double Missing)> run, double spacing, Func<double, double> usualWidth)
    {
        var missing = Math.Clamp(run.Select(at => at.Missing).OrderDescending().Take(3).Average(), 0, 1);
        var deep = run.Where(at => at.Missing >= missing / 2).Select(at => at.Level).ToArray();
        var middle = (deep[0] + deep[^1]) / 2;
        var half = VoidFacts.MissingHalfInterval.Value;
        return new FillingVoid(
            deep[0] - (spacing / 2),
            deep[^1] + (spacing / 2),
            usualWidth(middle) * (1 - Math.Sqrt(1 - missing)),
            new Estimate(100 * missing, new Interval(Math.Max(0, (100 * missing) - half), Math.Min(100, (100 * missing) + half))));
    }

    private static double Root(FillingSample sample) =>
        sample.FillingWidthPixels is { } width ? Math.Sqrt(Math.Max(0, sample.ContrastGreyLevels * width.Value)) : 0;

    private static bool IsNearOverlap(IReadOnlyList<FillingSample> samples, double level) =>
        samples.Any(sample => sample.IsOverlapped && Math.Abs(sample.LevelPixels - level) <= FromOverlapPixels);
}
