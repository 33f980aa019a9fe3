using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;

namespace Secondpass.Radiographs.Trace;

/// <summary>Where the fillings of two traced canals lie over each other on the film, and what can't be told there.</summary>
/// <remarks>
/// One rod is fitted to what is the shadow of two. Its middle is drawn towards the other filling, its width is that of both,
/// and its end is that of the one that reaches farther.
/// </remarks>
internal static class FillingOverlap
{
    /// <summary>How far a filling beyond its own end still counts as being there, in pixels.</summary>
    private const double BeyondEndPixels = 10;

    /// <summary>Deviation of a path from the middle of its own filling where another lies over it, as a share of its width; measured on simulated films of seeds 3000 to 3119.</summary>
    private const double PathDeviationShare = 0.29;

    /// <summary>Judges all branches of a film, each in the knowledge of the others.</summary>
    /// <param name="trunks">The canals as traced.</param>
    /// <param name="millimetresPerPixel">The film's scale; null when it has none.</param>
    public static IReadOnlyList<TracedBranch> Judge(IReadOnlyList<TracedBranch> trunks, double? millimetresPerPixel)
    {
        var all = trunks.SelectMany(trunk => trunk.SelfAndBelow()).ToList();
        return [.. trunks.Select(Judged)];

        TracedBranch Judged(TracedBranch branch)
        {
            var judged = Alone(branch, all, millimetresPerPixel);
            return judged with { Branches = [.. branch.Branches.Select(Judged)] };
        }
    }

    /// <summary>Whether another traced filling lies over this one at a level: their middle lines run nearer than half of both widths.</summary>
    /// <param name="branch">The branch.</param>
    /// <param name="level">Level in pixels from its orifice.</param>
    /// <param name="all">All branches of the film.</param>
    public static bool IsOver(TracedBranch branch, double level, IReadOnlyList<TracedBranch> all)
    {
        var at = branch.Path.At(level);
        var width = WidthAt(branch, level);
        return all.Any(other => other.Name != branch.Name
            && !Shares(branch, other, level)
            && NearestTo(other.Path, at) is var (there, distance)
            && there <= (other.Filling.FilledToPixels?.Value ?? double.NegativeInfinity) + BeyondEndPixels
            && distance < (width + WidthAt(other, there)) / 2);
    }

    /// <summary>Whether the trunk's path and the branch's are one at a level: above a split they are.</summary>
    public static bool Shares(TracedBranch branch, TracedBranch other, double level) =>
        (Holds(branch, other) && level <= other.OwnFromPixels) || (Holds(other, branch) && level <= branch.OwnFromPixels);

    /// <summary>The place of a path nearest to a place of the film, and how far it is, in pixels.</summary>
    public static (double Level, double Distance) NearestTo(CanalPath path, PixelPoint at)
    {
        const double Step = 3;
        var best = (Level: 0.0, Distance: double.PositiveInfinity);
        for (var level = 0.0; level <= path.LengthPixels; level += Step)
        {
            var distance = path.At(level).DistanceTo(at);
            if (distance < best.Distance)
            {
                best = (level, distance);
            }
        }

        return best;
    }

    /// <summary>Width of the filling at a level in pixels; 0 where none is seen.</summary>
    public static double WidthAt(TracedBranch branch, double level) => SampleAt(branch.Filling.Samples, level).FillingWidthPixels?.Value ?? 0;

    private static FillingSample SampleAt(IReadOnlyList<FillingSample> samples, double level)
    {
        var spacing = samples[1].LevelPixels - samples[0].LevelPixels;
        return samples[Math.Clamp((int)Math.Round(level / spacing, MidpointRounding.AwayFromZero), 0, samples.Count - 1)];
    }

    private static bool Holds(TracedBranch branch, TracedBranch other) => branch.SelfAndBelow().Any(one => one.Name == other.Name);

    private static TracedBranch Alone(TracedBranch branch, List<TracedBranch> all, double? millimetresPerPixel)
    {
        var samples = branch.Filling.Samples
            .Select(sample => sample.FillingWidthPixels is null || !IsOver(branch, sample.LevelPixels, all) ? sample : Overlapped(sample))
            .ToArray();
        var deviations = branch.Path.LevelsPixels.Zip(branch.PathDeviationsPixels, (level, alone) =>
        {
            var sample = SampleAt(samples, level);
            return sample.IsOverlapped ? Math.Max(alone, PathDeviationShare * sample.FillingWidthPixels!.Value.Value) : alone;
        }).ToArray();
        var filling = branch.Filling with { Samples = samples };
        var measures = samples.Any(sample => sample.IsOverlapped)
            ? BranchMeasurer.WithCurves(branch.Measures, branch.Path, filling, deviations, millimetresPerPixel)
            : branch.Measures;
        if (millimetresPerPixel is { } scale && filling.FilledToPixels is { } found)
        {
            var (told, whyNone) = HiddenEnd.Of(branch with { Filling = filling }, found, all, scale);
            measures = measures with
            {
                FillingEndToCanalEnd = told is { } end ? BranchMeasurer.EndToEnd(branch.Path, end, scale) : null,
                WhyNoFillingEnd = whyNone,
            };
            if (told is { } shorter && shorter.Value < found.Value)
            {
                (filling, measures) = CutOff(filling, measures, shorter, found.Value, scale);
            }
        }

        measures = measures with { Voids = VoidFinder.Find(filling, branch.OwnFromPixels) };
        if (millimetresPerPixel is { } size)
        {
            var (cone, whyNone) = ConeFitter.Fit(filling, measures, size);
            measures = measures with { Cone = cone, WhyNoCone = whyNone };
        }

        return branch with { Filling = filling, PathDeviationsPixels = deviations, Measures = measures };
    }

    /// <summary>Without what belongs to the other filling beyond this one's end.</summary>
    private static (FillingProfile Filling, BranchMeasures Measures) CutOff(FillingProfile filling, BranchMeasures measures, Estimate end, double found, double scale)
    {
        var beyond = Math.Max(0, Math.Min(found, measures.LengthPixels) - end.Value);
        return (
            filling with
            {
                FilledToPixels = end,
                Samples = [.. filling.Samples.Select(sample => sample.LevelPixels > end.Value ? sample with { FillingWidthPixels = null } : sample)],
            },
            measures with
            {
                FilledLength = measures.FilledLength is { } seen
                    ? Estimate.Within(seen.Value - ((found - end.Value) * scale), 0.5 * double.Hypot(seen.Interval.Width, end.Interval.Width * scale))
                    : null,
                FilledPercent = Math.Max(0, measures.FilledPercent - (100 * beyond / measures.LengthPixels)),
            });
    }

    /// <summary>What was read is the width of both fillings together; this one's share of it was found on simulated films of seeds 3000 to 3119.</summary>
    private static FillingSample Overlapped(FillingSample sample)
    {
        const double LeastShare = 0.6;
        const double UsualShare = 0.76;
        const double GreatestShare = 1.08;
        var width = sample.FillingWidthPixels!.Value.Value;
        return sample with
        {
            FillingWidthPixels = new Estimate(UsualShare * width, new Interval(LeastShare * width, GreatestShare * width)),
            IsOverlapped = true,
        };
    }
}
