using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Domain.Plans;
using Secondpass.Domain.Quantities;

namespace Secondpass.Job.Plans;

/// <summary>What a measured film says of canals for a plan: widths, walls, lengths along the canal, curvature.</summary>
internal static class FilmSizes
{
    /// <summary>Sizes by canal; none without a scale.</summary>
    /// <param name="trunks">The canals as traced.</param>
    /// <param name="scale">The film's scale.</param>
    /// <param name="tooth">The tooth, for whether its roots part; null when not said.</param>
    /// <param name="limits">Holds the allowance for a concavity that a film doesn't show.</param>
    public static IReadOnlyDictionary<string, CanalMeasures> Of(IReadOnlyList<TracedBranch> trunks, Calibration? scale, ToothNumber? tooth, PlanLimits limits)
    {
        ArgumentNullException.ThrowIfNull(limits);
        if (scale is null)
        {
            return new Dictionary<string, CanalMeasures>();
        }

        var branches = trunks.SelectMany(trunk => trunk.SelfAndBelow()).ToList();
        return branches.ToDictionary(
            branch => branch.Name,
            branch => Of(branch, scale.MillimetresPerPixel, Furcation(branch, branches, tooth), limits.ConcavityAllowance));
    }

    /// <summary>Where a branch leaves its trunk, from its end; null for a trunk.</summary>
    public static Millimetres? LeavesAt(TracedBranch branch, Calibration scale) =>
        branch.OwnFromPixels > 0 ? new Millimetres((branch.Path.LengthPixels - branch.OwnFromPixels) * scale.MillimetresPerPixel) : null;

    // Just below a split two fillings lie side by side, and the film shows one as wide as both. A branch is no wider than its trunk where it leaves.
    private static List<double> LevelsOfBoth(TracedBranch branch, double scale)
    {
        const double AboveMillimetres = 1;
        const double Margin = 1.1;
        var splits = branch.Branches.Select(child => child.OwnFromPixels).Append(branch.OwnFromPixels).Where(split => split > 0).Distinct();
        return
        [
            .. splits.SelectMany(split =>
            {
                var widths = Widths(sample => sample.LevelPixels <= split && sample.LevelPixels >= split - (AboveMillimetres / scale)).Select(sample => sample.Width).Order().ToList();
                return widths.Count == 0 ? [] : Widths(sample => sample.LevelPixels > split).Where(sample => sample.Width > Margin * widths[widths.Count / 2]).Select(sample => sample.Level);
            }).Distinct().Order(),
        ];

        IEnumerable<(double Level, double Width)> Widths(Func<FillingSample, bool> wanted) => branch.Filling.Samples
            .Where(sample => sample.FillingWidthPixels is not null && wanted(sample))
            .Select(sample => (sample.LevelPixels, sample.FillingWidthPixels!.Value.Value));
    }

    private static CanalMeasures Of(TracedBranch branch, double scale, Sides furcation, Millimetres allowance)
    {
        var end = branch.Path.LengthPixels;
        var ofBoth = LevelsOfBoth(branch, scale);
        var seenAsOne = ofBoth.Count == 0 ? default(Interval?) : new Interval((end - ofBoth[^1]) * scale, (end - ofBoth[0]) * scale);
        var walls = new List<WallAtLevel>();

        // Left of the way to the end is the film's left where the way goes up, its right where it goes down.
        var goesDown = branch.Path.Points[^1].Y > branch.Path.Points[0].Y;
        var (left, right) = goesDown ? ("film's right side", "film's left side") : ("film's left side", "film's right side");
        foreach (var sample in branch.Walls.Where(sample => !IsSeenAsOne(sample.LevelPixels)))
        {
            var level = new Millimetres((end - sample.LevelPixels) * scale);
            Add(level, left, sample.LeftPixels, furcation.HasFlag(Sides.Left));
            Add(level, right, sample.RightPixels, furcation.HasFlag(Sides.Right));
        }

        return new CanalMeasures(
            new Millimetres(end * scale),
            [
                .. branch.Filling.Samples
                    .Where(sample => sample.FillingWidthPixels is not null && !IsSeenAsOne(sample.LevelPixels))
                    .Select(sample => new WidthAtLevel(new Millimetres((end - sample.LevelPixels) * scale), new Millimetres(sample.FillingWidthPixels!.Value.Value * scale), null))
                    .OrderBy(width => width.FromEnd),
            ],
            walls,
            branch.Measures.SchneiderDegrees is { } angle ? new Degrees(angle.Value) : null)
        {
            SeenAsOneMillimetres = seenAsOne,
        };

        bool IsSeenAsOne(double level) => ofBoth.Count > 0 && level >= ofBoth[0] && level <= ofBoth[^1];

        void Add(Millimetres level, string side, double? pixels, bool towardsFurcation)
        {
            if (pixels is { } thickness)
            {
                walls.Add(new WallAtLevel(level, side, new Millimetres(thickness * scale), towardsFurcation ? allowance : default, WallSource.Film));
            }
        }
    }

    // The furcation lies towards the other roots' canals. Where none was traced, or the roots lie one behind the other, either side may face it.
    private static Sides Furcation(TracedBranch branch, List<TracedBranch> all, ToothNumber? tooth)
    {
        if (!MayHaveFurcation(tooth))
        {
            return Sides.None;
        }

        const double ApartPixels = 25;
        var middle = branch.Path.At(branch.Path.LengthPixels / 2);
        var along = branch.Path.DirectionAt(branch.Path.LengthPixels / 2, branch.Path.LengthPixels / 4);
        var sides = Sides.None;
        foreach (var other in all.Where(other => other.Name != branch.Name))
        {
            var towards = other.Path.At(other.Path.LengthPixels / 2) - middle;
            var left = (towards.X * along.Y) - (towards.Y * along.X);
            sides |= left > ApartPixels ? Sides.Left : left < -ApartPixels ? Sides.Right : Sides.None;
        }

        return sides == Sides.None ? Sides.Both : sides;
    }

    // Molars and upper first premolars; unknown teeth are taken to have one.
    private static bool MayHaveFurcation(ToothNumber? tooth) => tooth is not { } known || known.Number % 10 >= 6 || known.Number is 14 or 24;

    [Flags]
    private enum Sides
    {
        None = 0,
        Left = 1,
        Right = 2,
        Both = Left | Right,
    }
}
