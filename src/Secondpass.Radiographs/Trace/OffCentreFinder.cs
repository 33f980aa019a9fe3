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
    private const string WallsOverlapped = "Another root or a neighbouring tooth lies over this root's surfaces on the film, so how thick its walls are can't be told.";
    private const string NoWalls = "The film shows neither surface of the root clearly beside a filling that lies alone, so how thick its walls are can't be told.";
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
            WallSample[] walls = [.. branch.Walls.Select(wall => Own(branch, wall, all)).Where(wall => wall is not { LeftPixels: null, RightPixels: null })];
            return branch with
            {
                Measures = branch.Measures with { OffCentre = sign, WhyNoOffCentre = whyNone },
                Walls = walls,
                WhyNoWalls = walls.Length > 0 ? null : branch.IsOverlapped ? WallsOverlapped : NoWalls,
                Branches = [.. branch.Branches.Select(Judged)],
            };
        }
    }

    // A surface nearer to another canal is that canal's root's; where another filling lies over this one its edges are those of both.
    private static WallSample Own(TracedBranch branch, WallSample wall, List<TracedBranch> all) => FillingOverlap.IsOver(branch, wall.LevelPixels, all)
        ? wall with { LeftPixels = null, RightPixels = null }
        : wall with
        {
            LeftPixels = ReachesOtherCanal(branch, wall, all, left: true) ? null : wall.LeftPixels,
            RightPixels = ReachesOtherCanal(branch, wall, all, left: false) ? null : wall.RightPixels,
        };

    private static (OffCentreSign? Sign, string? WhyNone) Find(TracedBranch branch, List<TracedBranch> all, double millimetresPerPixel)
    {
        var window = (int)Math.Ceiling(SteadyOverMillimetres / millimetresPerPixel / RootWalls.LevelStepPixels);
        var reach = window * RootWalls.LevelStepPixels;
        var both = branch.Walls.Where(sample => sample is { LeftPixels: not null, RightPixels: not null }).ToList();
        var apart = both.Where(sample => !ReachesOtherCanal(branch, sample, all)).ToList();
        var alone = apart.Where(sample => !FillingOverlap.IsOver(branch, sample.LevelPixels, all)).ToList();
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
    private static bool ReachesOtherCanal(TracedBranch branch, WallSample sample, List<TracedBranch> all) =>
        ReachesOtherCanal(branch, sample, all, left: true) || ReachesOtherCanal(branch, sample, all, left: false);

    private static bool ReachesOtherCanal(TracedBranch branch, WallSample sample, List<TracedBranch> all, bool left)
    {
        var at = branch.Path.At(sample.LevelPixels);
        var along = branch.Path.DirectionAt(sample.LevelPixels, 4);
        return all.Any(other =>
        {
            if (other.Name == branch.Name || FillingOverlap.Shares(branch, other, sample.LevelPixels))
            {
                return false;
            }

            var (level, distance) = FillingOverlap.NearestTo(other.Path, at);
            var there = other.Path.At(level) - at;
            return ((there.X * along.Y) - (there.Y * along.X) > 0) == left
                && (left ? sample.LeftPixels : sample.RightPixels) + (FillingOverlap.WidthAt(branch, sample.LevelPixels) / 2) > distance / 2;
        });
    }
}
