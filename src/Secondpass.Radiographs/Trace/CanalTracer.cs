using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Pixels;

namespace Secondpass.Radiographs.Trace;

/// <summary>From a few marks on a film to the canal's centre line, its filling and its measures.</summary>
public static class CanalTracer
{
    private const double LeastLengthPixels = 15;
    private const double TrunkReachPixels = 20;
    private const double LevelSpacingMillimetres = 0.1;
    private const double LevelSpacingPixelsWithoutScale = 3;

    /// <summary>Traces one canal with its branches.</summary>
    /// <param name="film">The film; the filling may be shown lighter or, on an inverted film, darker than dentine.</param>
    /// <param name="scale">Its scale, or null: then there are no millimetres.</param>
    /// <param name="clicks">The marks, in pixels of the film.</param>
    /// <returns>
    /// The traced trunk with its branches, all in pixels of the film; or a refusal: fewer than two marks, a mark outside
    /// the film, ends less than 15 pixels apart, a branch that doesn't start on its trunk, a name used twice.
    /// </returns>
    /// <remarks>
    /// The path is the cheapest way over a measure of line strength, moved to the middle of the filling to a fraction of a
    /// pixel. Where the canal holds no filling it bridges smoothly. Soft pins and the orifice are captured within 8 pixels.
    /// </remarks>
    public static Answer<TracedBranch> Trace(Radiograph film, Calibration? scale, CanalClicks clicks)
    {
        ArgumentNullException.ThrowIfNull(film);
        ArgumentNullException.ThrowIfNull(clicks);
        var refusal = Check(film, clicks);
        if (refusal is not null)
        {
            return refusal;
        }

        var image = GreyImage.From(film);
        var search = PathSearch.Around(image, clicks.Pins);
        var traced = search.Tell().BrightLine
            ? TraceUpright(image, scale, clicks, search)
            : TraceUpright(GreyImage.From(film, inverted: true), scale, clicks, search.Inverted());
        return traced.TryGet(out var canal, out var untraceable) ? Together([canal.Branch], scale)[0] : untraceable;
    }

    /// <summary>The canals of one film, each judged in the knowledge of the others: where fillings lie over each other, none of them is said to lie off centre.</summary>
    /// <param name="trunks">All canals that were traced on the film.</param>
    /// <param name="scale">Its scale, or null: then none is.</param>
    public static IReadOnlyList<TracedBranch> Together(IReadOnlyList<TracedBranch> trunks, Calibration? scale)
    {
        ArgumentNullException.ThrowIfNull(trunks);
        return scale is null ? trunks : OffCentreFinder.Judge(trunks, scale.MillimetresPerPixel);
    }

    /// <summary>Traces on an image whose filling is known to be brighter than dentine. The marks have been checked.</summary>
    internal static Answer<TracedWithRods> TraceUpright(GreyImage image, Calibration? scale, CanalClicks clicks, PathSearch search) =>
        Branch(image, scale, clicks, search, parent: null);

    /// <summary>A traced branch with those below it, and the rods fitted along each: in the order of <see cref="TracedBranch.SelfAndBelow"/>.</summary>
    internal sealed record TracedWithRods(TracedBranch Branch, IReadOnlyList<RodProfile> Rods);

    /// <summary>What is wrong with the marks of a canal, or null.</summary>
    internal static Refusal? Check(Radiograph film, CanalClicks clicks)
    {
        var names = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        foreach (var branch in clicks.SelfAndBelow())
        {
            if (branch.Pins.Count < 2)
            {
                return TraceRefusals.TooFewMarks(branch);
            }

            foreach (var pin in branch.Pins)
            {
                if (!film.Holds(pin.At))
                {
                    return TraceRefusals.OutsideFilm(branch, pin.At, film);
                }
            }

            var distance = branch.Pins[0].At.DistanceTo(branch.Pins[^1].At);
            if (distance < LeastLengthPixels)
            {
                return TraceRefusals.MarksTogether(branch, distance);
            }

            if (!names.Add(branch.Name))
            {
                return TraceRefusals.NamedTwice(branch.Name);
            }
        }

        return null;
    }

    private static Answer<TracedWithRods> Branch(GreyImage image, Calibration? scale, CanalClicks clicks, PathSearch? search, TracedBranch? parent)
    {
        var pins = clicks.Pins;
        var shared = new List<PixelPoint>();
        double ownFrom = 0;
        if (parent is not null)
        {
            var (level, distance) = NearestLevel(parent.Path, pins[0].At);
            if (distance > TrunkReachPixels)
            {
                return TraceRefusals.AwayFromTrunk(clicks, parent.Name, distance);
            }

            ownFrom = level;
            for (var at = 0.0; at < level - 1; at += 2)
            {
                shared.Add(parent.Path.At(at));
            }

            pins = [new Pin(parent.Path.At(level), PinStrength.Hard), .. pins.Skip(1)];
        }

        search ??= PathSearch.Around(image, pins, firstIsFixed: parent is not null);
        var places = search.AlongBright(Elsewhere(clicks, parent, ownFrom));
        var hard = pins.Where((pin, index) => index > 0 && index < pins.Count - 1 && pin.Strength == PinStrength.Hard).Select(pin => pin.At);
        var path = BetweenMarks(CentreLine.Refine(image, [.. shared, .. places], [.. hard], ownFrom), parent is null ? pins[0].At : null, pins[^1].At);
        var spacing = scale is null ? LevelSpacingPixelsWithoutScale : LevelSpacingMillimetres / scale.MillimetresPerPixel;
        var rods = RodProfile.Along(image, path, spacing, null);
        var filling = FillingReader.Read(image, path, rods);
        var walls = scale is null ? null : RootWalls.Find(image, path, rods, scale.MillimetresPerPixel);
        var measures = BranchMeasurer.Measure(path, filling, rods, scale);
        var traced = new TracedBranch(clicks.Name, path, ownFrom, filling, measures, []) { Walls = walls?.Samples() ?? [], IsOverlapped = walls?.IsOverlapped ?? false };
        var branches = new List<TracedBranch>();
        var allRods = new List<RodProfile> { rods };
        foreach (var below in clicks.Branches)
        {
            if (!Branch(image, scale, below, search: null, traced).TryGet(out var branch, out var refusal))
            {
                return refusal;
            }

            branches.Add(branch.Branch);
            allRods.AddRange(branch.Rods);
        }

        return new TracedWithRods(traced with { Branches = branches }, allRods);
    }

    /// <summary>
    /// The path lengthened straight on, or cut, so that it begins and ends level with the marks: capture may move a mark
    /// across a canal, never along it.
    /// </summary>
    private static CanalPath BetweenMarks(CanalPath path, PixelPoint? orifice, PixelPoint end)
    {
        const double DirectionReachPixels = 12;
        var points = path.Points.ToList();
        if (orifice is { } first)
        {
            var along = path.DirectionAt(0, DirectionReachPixels);
            Level(points, along * -1, first, atStart: true);
        }

        Level(points, path.DirectionAt(path.LengthPixels, DirectionReachPixels), end, atStart: false);
        return points.Count >= 2 ? new CanalPath(points) : path;
    }

    private static void Level(List<PixelPoint> points, PixelPoint outward, PixelPoint mark, bool atStart)
    {
        const double MostPixels = 14;
        double Beyond(PixelPoint place) => ((mark.X - place.X) * outward.X) + ((mark.Y - place.Y) * outward.Y);
        PixelPoint Outermost() => atStart ? points[0] : points[^1];
        while (points.Count > 3 && Beyond(Outermost()) < 0)
        {
            points.RemoveAt(atStart ? 0 : points.Count - 1);
        }

        var rest = Math.Min(Beyond(Outermost()), MostPixels);
        if (rest > 0.05)
        {
            points.Insert(atStart ? 0 : points.Count, Outermost() + (outward * rest));
        }
    }

    /// <summary>Where a branch must not run: along its parent past the split, and to the ends of its own branches.</summary>
    private static List<PathSearch.Detour> Elsewhere(CanalClicks clicks, TracedBranch? parent, double ownFrom)
    {
        const double BesideTrunkPixels = 7;
        const double AroundEndPixels = 18;
        var elsewhere = clicks.Branches.Select(branch => new PathSearch.Detour(branch.Pins[^1].At, AroundEndPixels)).ToList();
        for (var level = ownFrom + 25; parent is not null && level <= parent.Path.LengthPixels; level += 5)
        {
            elsewhere.Add(new PathSearch.Detour(parent.Path.At(level), BesideTrunkPixels));
        }

        return elsewhere;
    }

    private static (double Level, double Distance) NearestLevel(CanalPath path, PixelPoint place)
    {
        var best = (Level: 0.0, Distance: double.PositiveInfinity);
        for (var level = 0.0; level <= path.LengthPixels; level += 0.5)
        {
            var distance = path.At(level).DistanceTo(place);
            if (distance < best.Distance)
            {
                best = (level, distance);
            }
        }

        return best;
    }
}
