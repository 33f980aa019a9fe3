using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;
using Secondpass.Radiographs.Pixels;

namespace Secondpass.Radiographs.Trace;

/// <summary>Says how unequal the root's two surfaces lie beside a filling, where the film shows both of them and the filling alone.</summary>
internal static class OffCentreFinder
{
    private const double SteadyOverMillimetres = 1.5;

    /// <summary>Why no branch has a figure on a film without a scale.</summary>
    public const string NeedsScale = "How far the filling lies off centre needs the film's scale.";

    private const string FillingsOverlap = "Another filling lies over this one on the film, so how far it lies off centre can't be told.";
    private const string RootsOverlap = "Another root or a neighbouring tooth lies over this root's surfaces on the film, so how far the filling lies off centre can't be told.";
    private const string RootsMeet = "Another canal lies so near that this root's surfaces can't be told from those of its root, so how far the filling lies off centre can't be told.";
    private const string NotClear = "The root's two surfaces are not clear over 1.5 mm beside the filling, so how far it lies off centre can't be told.";

    /// <summary>Judges all branches of a film, each in the knowledge of the others.</summary>
    /// <param name="trunks">The canals as traced.</param>
    /// <param name="millimetresPerPixel">The film's scale.</param>
    public static IReadOnlyList<TracedBranch> Judge(IReadOnlyList<TracedBranch> trunks, double millimetresPerPixel)
    {
        var all = trunks.SelectMany(trunk => trunk.SelfAndBelow()).ToList();
        return [.. trunks.Select(Judged)];

        TracedBranch Judged(TracedBranch branch)
        {
            var (sign, whyNone) = Find(branch, all, millimetresPerPixel);
            return branch with
            {
                Measures = branch.Measures with { OffCentre = sign, WhyNoOffCentre = whyNone },
                Branches = [.. branch.Branches.Select(Judged)],
            };
        }
    }

    private static (OffCentreSign? Sign, string? WhyNone) Find(TracedBranch branch, List<TracedBranch> all, double millimetresPerPixel)
    {
        var window = (int)Math.Ceiling(SteadyOverMillimetres / millimetresPerPixel / RootWalls.LevelStepPixels);
        var reach = window * RootWalls.LevelStepPixels;
        var both = branch.Walls.Where(sample => sample is { LeftPixels: not null, RightPixels: not null }).ToList();
        var apart = both.Where(sample => !ReachesOtherCanal(branch, sample, all)).ToList();
        var alone = apart.Where(sample => !HasOtherFilling(branch, sample.LevelPixels, all)).ToList();
        OffCentreSign? best = null;
        for (var first = 0; first < alone.Count; first++)
        {
            var differences = alone.Skip(first)
                .TakeWhile(sample => sample.LevelPixels < alone[first].LevelPixels + reach)
                .Select(sample => (sample.LeftPixels!.Value - sample.RightPixels!.Value) * millimetresPerPixel)
                .ToArray();
            if (differences.Length < 0.8 * window)
            {
                continue;
            }

            var middle = Ranks.Median([.. differences]);
            var spread = Ranks.RobustDeviation([.. differences]);
            var half = 1.96 * Math.Sqrt((spread * spread / 3) + 0.0036);
            var size = Math.Abs(middle);
            if (spread < 0.35 && (best is null || size > best.DifferenceMillimetres.Value))
            {
                best = new OffCentreSign(
                    Estimate.Within(size, half),
                    (branch.Path.LengthPixels - alone[first].LevelPixels - (reach / 2)) * millimetresPerPixel,
                    size >= FilmSigns.OffCentreDifference.Value,
                    middle > 0);
            }
        }

        return best is not null ? (best, null) : (null, WhyNone(branch, window, both.Count, apart.Count, alone.Count));
    }

    private static string WhyNone(TracedBranch branch, int window, int both, int apart, int alone)
    {
        if (both >= window && both >= 2 * apart)
        {
            return RootsMeet;
        }

        return apart >= window && apart >= 2 * alone ? FillingsOverlap : branch.IsOverlapped ? RootsOverlap : NotClear;
    }

    // Above the furcation, and where roots cross, the next surface is that of another root: one that lies farther from this canal
    // than half the way to another canal is taken for the other's.
    private static bool ReachesOtherCanal(TracedBranch branch, WallSample sample, List<TracedBranch> all)
    {
        var at = branch.Path.At(sample.LevelPixels);
        var along = branch.Path.DirectionAt(sample.LevelPixels, 4);
        return all.Any(other =>
        {
            if (other == branch || Shares(branch, other, sample.LevelPixels))
            {
                return false;
            }

            var (level, distance) = NearestTo(other.Path, at);
            var there = other.Path.At(level) - at;
            var isLeft = (there.X * along.Y) - (there.Y * along.X) > 0;
            return (isLeft ? sample.LeftPixels : sample.RightPixels) + (WidthAt(branch, sample.LevelPixels) / 2) > distance / 2;
        });
    }

    // Two middle lines nearer than half of both widths: what was read as this filling's edges are those of both.
    private static bool HasOtherFilling(TracedBranch branch, double level, List<TracedBranch> all)
    {
        var at = branch.Path.At(level);
        var width = WidthAt(branch, level);
        return all.Any(other => other != branch && !Shares(branch, other, level) && NearestTo(other.Path, at) is var (there, distance) && distance < (width + WidthAt(other, there)) / 2);
    }

    // Above a split the trunk's path and the branch's are one.
    private static bool Shares(TracedBranch branch, TracedBranch other, double level) =>
        (branch.SelfAndBelow().Contains(other) && level <= other.OwnFromPixels) || (other.SelfAndBelow().Contains(branch) && level <= branch.OwnFromPixels);

    private static double WidthAt(TracedBranch branch, double level)
    {
        var nearest = branch.Filling.Samples.MinBy(sample => Math.Abs(sample.LevelPixels - level));
        return nearest.FillingWidthPixels?.Value ?? 0;
    }

    private static (double Level, double Distance) NearestTo(CanalPath path, PixelPoint at)
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
}
