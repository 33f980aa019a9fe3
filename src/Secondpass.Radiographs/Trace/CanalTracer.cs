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
    private const double BesideTrunkPixels = 7;
    private const double AroundEndPixels = 18;

    /// <summary>How far past a split two canals still lie over each other, in pixels.</summary>
    private const double PastSplitPixels = 25;

    private const double LevelSpacingMillimetres = 0.1;
    private const double LevelSpacingPixelsWithoutScale = 3;

    /// <summary>Filled levels from which a canal tells the film's blur.</summary>
    private const int LeastLevelsForBlur = 12;

    /// <summary>Times the film's blur from which a canal counts as softer than the film.</summary>
    private const double SofterThanTheFilm = 1.2;

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
        ArgumentNullException.ThrowIfNull(clicks);
        return TraceAll(film, scale, [clicks]).TryGet(out var traced, out var refusal) ? traced[0] : refusal;
    }

    /// <summary>Traces the canals of one film, each in the knowledge of the others: the film's blur is that of the canal that shows it best.</summary>
    /// <param name="film">The film, as in <see cref="Trace"/>.</param>
    /// <param name="scale">Its scale, or null: then there are no millimetres.</param>
    /// <param name="canals">The marks of each canal.</param>
    /// <returns>
    /// The trunks in the order of the marks, each judged in the knowledge of the others: where fillings lie over each other, widths, paths and
    /// angles are less certain, and a filling's end that can't be told apart is not given; or the first refusal.
    /// </returns>
    public static Answer<TracedBranch[]> TraceAll(Radiograph film, Calibration? scale, IReadOnlyList<CanalClicks> canals)
    {
        ArgumentNullException.ThrowIfNull(film);
        ArgumentNullException.ThrowIfNull(canals);
        foreach (var clicks in canals)
        {
            if (Check(film, clicks) is { } refusal)
            {
                return refusal;
            }
        }

        if (canals.Count == 0)
        {
            return Array.Empty<TracedBranch>();
        }

        var shown = KeptGreys.Of(film);
        var kept = KeptTraces.Of(film);
        var alone = new List<TracedAlone>();
        foreach (var clicks in canals)
        {
            if (!kept.Find(scale, clicks, [], () => Alone(shown, scale, clicks)).TryGet(out var canal, out var untraceable))
            {
                return untraceable;
            }

            alone.Add(canal);
        }

        // All canals of a film are of one polarity: that of the one whose line stands out most.
        var isBright = alone.MaxBy(canal => canal.Strength)!.IsBright;
        var image = shown.With(isBright);
        for (var i = 0; i < alone.Count; i++)
        {
            if (alone[i].IsBright != isBright)
            {
                var search = PathSearch.Around(image, canals[i].Pins);
                var told = search.Tell();
                if (!TraceUpright(image, scale, canals[i], search).TryGet(out var turned, out var untraceable))
                {
                    return untraceable;
                }

                alone[i] = new TracedAlone(isBright, told.Strength, told.OtherShare, turned);
            }
        }

        if (!UnfilledCanals.Of(image, () => shown.With(!isBright), scale, canals, [.. alone.Select(canal => canal.Canal)], [.. alone.Select(canal => canal.OtherShare)]).TryGet(out var emptied, out var refused))
        {
            return refused;
        }

        alone = [.. alone.Zip(emptied, (canal, now) => canal with { Canal = now })];
        if (!Parted(shown, scale, canals, alone, kept).TryGet(out var traced, out var unparted))
        {
            return unparted;
        }

        for (var i = 0; i < traced.Count; i++)
        {
            var whose = traced[i].Canal.Branch.IsThroughMarks
                ? -1
                : Enumerable.Range(0, traced.Count).FirstOrDefault(other => other != i && OwnWay.IsOthers(traced[i].Canal, canals[i].Pins, traced[other].Canal, canals[other].Pins, () => shown.With(traced[other].IsBright)), -1);
            if (whose >= 0)
            {
                if (!Alone(shown, scale, canals[i], traced[whose].Canal).TryGet(out var own, out var untraceable))
                {
                    return untraceable;
                }

                traced[i] = own;
            }
        }

        var sharpest = traced.SelectMany(each => each.Canal.Rods).Where(rods => rods.Filled.Count(filled => filled) >= LeastLevelsForBlur).Min(rods => (double?)rods.BlurPixels);
        var together = Together([.. traced.Select(each => OfOneFilm(shown, scale, each, sharpest))], scale);
        return scale is null ? together : [.. WithEmptyWidths(together, traced, shown, sharpest, scale.MillimetresPerPixel).Select(trunk => WithScaleShare(trunk, scale))];
    }

    /// <summary>The canals, those that ran along one filling parted.</summary>
    private static Answer<List<TracedAlone>> Parted(KeptGreys shown, Calibration? scale, IReadOnlyList<CanalClicks> canals, List<TracedAlone> alone, KeptTraces kept)
    {
        if (alone.Count < 2)
        {
            return alone;
        }

        var isBright = alone[0].IsBright;
        var image = shown.With(isBright);
        return PartedWays.Of(image, canals, [.. alone.Select(each => each.Canal)], Anew).TryGet(out var parted, out var refusal)
            ? alone.Zip(parted, (each, canal) => each with { Canal = canal }).ToList()
            : refusal;

        Answer<TracedWithRods> Anew(int i, IReadOnlyList<PathSearch.Detour> avoided) =>
            kept.Find(scale, canals[i], avoided, () => As(alone[i], TraceUpright(image, scale, canals[i], PathSearch.Around(image, canals[i].Pins), avoided: avoided)))
                .TryGet(out var again, out var untraceable) ? again.Canal : untraceable;
    }

    /// <summary>What was read in mm, with how the scale was found in its interval. Lengths along the canal hold it already.</summary>
    private static TracedBranch WithScaleShare(TracedBranch branch, Calibration scale)
    {
        var measures = branch.Measures;
        return branch with
        {
            Measures = measures with
            {
                FillingEndToCanalEnd = measures.FillingEndToCanalEnd is { } end ? scale.Widened(end) : null,
                Pruett = measures.Pruett with { RadiusMillimetres = measures.Pruett.RadiusMillimetres is { } radius ? scale.Widened(radius) : null },
                OffCentre = measures.OffCentre is { } off ? off with { DifferenceMillimetres = scale.Widened(off.DifferenceMillimetres) } : null,
                Cone = measures.Cone is { } cone ? cone with { EndWidthMillimetres = scale.Widened(cone.EndWidthMillimetres) } : null,
            },
            Branches = [.. branch.Branches.Select(below => WithScaleShare(below, scale))],
        };
    }

    private static TracedBranch[] WithEmptyWidths(TracedBranch[] trunks, List<TracedAlone> traced, KeptGreys shown, double? blurPixels, double millimetresPerPixel)
    {
        var all = trunks.SelectMany(trunk => trunk.SelfAndBelow()).ToList();
        var ofFilm = all.Select(branch => EmptyWidth.Density(branch.Filling)).Max();
        return [.. trunks.Zip(traced, (trunk, alone) => Read(trunk, alone))];

        TracedBranch Read(TracedBranch branch, TracedAlone alone)
        {
            var (widths, whyNone) = EmptyWidth.Read(
                shown.With(alone.IsBright), branch, blurPixels ?? alone.Canal.Rods[0].BlurPixels, EmptyWidth.Density(branch.Filling) ?? ofFilm, all, millimetresPerPixel);
            return branch with { CanalWidths = widths, WhyNoCanalWidth = whyNone, Branches = [.. branch.Branches.Select(below => Read(below, alone))] };
        }
    }

    private static Answer<TracedAlone> Alone(KeptGreys film, Calibration? scale, CanalClicks clicks, TracedWithRods? beside = null)
    {
        var search = PathSearch.Around(film.With(isBright: true), clicks.Pins);
        var (isBright, strength, otherShare) = search.Tell();
        return TraceUpright(film.With(isBright), scale, clicks, isBright ? search : search.Inverted(), beside).TryGet(out var canal, out var untraceable)
            ? new TracedAlone(isBright, strength, otherShare, canal)
            : untraceable;
    }

    private static Answer<TracedAlone> As(TracedAlone told, Answer<TracedWithRods> traced) =>
        traced.TryGet(out var canal, out var untraceable) ? told with { Canal = canal } : untraceable;

    /// <summary>
    /// The canals of one film, each judged in the knowledge of the others: where fillings lie over each other, widths and paths are
    /// less certain, no filling's end is given that can't be told apart, and none is said to lie off centre.
    /// </summary>
    private static TracedBranch[] Together(IReadOnlyList<TracedBranch> trunks, Calibration? scale)
    {
        var judged = FillingOverlap.Judge(trunks, scale?.MillimetresPerPixel);
        return [.. scale is null ? judged : OffCentreFinder.Judge(judged, scale.MillimetresPerPixel)];
    }

    /// <summary>A canal read once more with the film's blur where it looked softer: a filling that lies half over another looks softer than it is.</summary>
    private static TracedBranch OfOneFilm(KeptGreys film, Calibration? scale, TracedAlone alone, double? blurPixels)
    {
        var canal = alone.Canal;
        var next = 0;
        return Sharp(canal.Branch);

        TracedBranch Sharp(TracedBranch branch)
        {
            var rods = canal.Rods[next++];
            var read = blurPixels is { } blur && !branch.IsThroughMarks && rods.BlurPixels > SofterThanTheFilm * blur ? Read(film.With(alone.IsBright), scale, branch, rods, blur) : branch;
            return read with { Branches = [.. branch.Branches.Select(Sharp)] };
        }
    }

    private static TracedBranch Read(GreyImage image, Calibration? scale, TracedBranch branch, RodProfile soft, double blurPixels)
    {
        var rods = RodProfile.Along(image, branch.Path, soft.SpacingPixels, blurPixels);
        var filling = FillingReader.Read(image, branch.Path, rods);
        return branch with
        {
            Filling = filling,
            Measures = BranchMeasurer.Measure(branch.Path, filling, rods, branch.PathDeviationsPixels, scale),
        };
    }

    /// <summary>Traces on an image whose filling is known to be brighter than dentine. The marks have been checked.</summary>
    /// <param name="image">The image.</param>
    /// <param name="scale">As in <see cref="Trace"/>.</param>
    /// <param name="clicks">As there.</param>
    /// <param name="search">The search between the trunk's marks.</param>
    /// <param name="beside">The canal along whose filling this one was traced although its marks lie beside it; null for none.</param>
    /// <param name="avoided">Where the way must not run; null for nowhere.</param>
    internal static Answer<TracedWithRods> TraceUpright(
        GreyImage image,
        Calibration? scale,
        CanalClicks clicks,
        PathSearch search,
        TracedWithRods? beside = null,
        IReadOnlyList<PathSearch.Detour>? avoided = null) =>
        Branch(image, scale, clicks, search, parent: null, beside, avoided ?? []);

    /// <summary>A traced branch with those below it, and the rods fitted along each: in the order of <see cref="TracedBranch.SelfAndBelow"/>.</summary>
    internal sealed record TracedWithRods(TracedBranch Branch, IReadOnlyList<RodProfile> Rods);

    /// <summary>A canal traced without knowledge of the film's others, with what <see cref="PathSearch.Tell"/> says of it.</summary>
    internal sealed record TracedAlone(bool IsBright, double Strength, double OtherShare, TracedWithRods Canal);

    /// <summary>Reads a canal that holds no filling, along a way that is known.</summary>
    /// <param name="image">Grey values; filling is brighter than dentine.</param>
    /// <param name="scale">As in <see cref="Trace"/>.</param>
    /// <param name="clicks">Its marks.</param>
    /// <param name="way">Its way.</param>
    internal static Answer<TracedWithRods> ReadEmpty(GreyImage image, Calibration? scale, CanalClicks clicks, CanalPath way) =>
        Branch(image, scale, clicks, search: null, parent: null, beside: null, [], way);

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

    private static Answer<TracedWithRods> Branch(
        GreyImage image,
        Calibration? scale,
        CanalClicks clicks,
        PathSearch? search,
        TracedBranch? parent,
        TracedWithRods? beside,
        IReadOnlyList<PathSearch.Detour> avoided,
        CanalPath? emptyWay = null)
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

        var path = emptyWay ?? Way();
        var spacing = scale is null ? LevelSpacingPixelsWithoutScale : LevelSpacingMillimetres / scale.MillimetresPerPixel;
        var rods = RodProfile.Along(image, path, spacing, null);
        if (emptyWay is not null)
        {
            rods = rods.Only(_ => false);
        }

        var throughMarks = beside is not null || (parent is null && emptyWay is null && OwnWay.MarksLieBeside(clicks.Pins, path, rods));
        if (throughMarks)
        {
            var (along, ofOther) = beside is null ? (path, rods) : (beside.Branch.Path, beside.Rods[0]);
            path = OwnWay.Through(clicks.Pins, along, ofOther);
            rods = OwnWay.OwnFilling(RodProfile.Along(image, path, spacing, ofOther.BlurPixels), path, along, ofOther);
        }

        var filling = FillingReader.Read(image, path, rods);
        var walls = scale is null ? null : RootWalls.Find(image, path, rods, scale.MillimetresPerPixel);
        var deviations = PathDeviation.Along(path, rods, clicks.Pins, throughMarks);
        var measures = BranchMeasurer.Measure(path, filling, rods, deviations, scale);
        var traced = new TracedBranch(clicks.Name, path, ownFrom, filling, measures, [])
        {
            Walls = walls?.Samples() ?? [],
            IsOverlapped = walls?.IsOverlapped ?? false,
            PathDeviationsPixels = deviations,
            MarkedEnd = pins[^1].At,
            IsThroughMarks = throughMarks,
        };
        var branches = new List<TracedBranch>();
        var allRods = new List<RodProfile> { rods };
        foreach (var below in clicks.Branches)
        {
            if (!Branch(image, scale, below, search: null, traced, beside: null, avoided).TryGet(out var branch, out var refusal))
            {
                return refusal;
            }

            branches.Add(branch.Branch);
            allRods.AddRange(branch.Rods);
        }

        return new TracedWithRods(traced with { Branches = branches }, allRods);

        CanalPath Way()
        {
            search ??= PathSearch.Around(image, pins, firstIsFixed: parent is not null);
            var places = parent is null && clicks.Branches.Count == 1
                ? TrunkWay(search, clicks, clicks.Branches[0], avoided)
                : search.AlongBright([.. Elsewhere(clicks, parent, ownFrom), .. avoided]);
            var hard = pins.Where((pin, index) => index > 0 && index < pins.Count - 1 && pin.Strength == PinStrength.Hard).Select(pin => pin.At);
            return BetweenMarks(CentreLine.Refine(image, [.. shared, .. places], [.. hard], ownFrom), parent is null ? pins[0].At : null, pins[^1].At);
        }
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

    /// <summary>
    /// The way of a trunk that divides in two. Alone it may run along its branch's filling and jump over to its own end, so both orders
    /// are tried, each way keeping off the one found first, and the cheaper pair wins.
    /// </summary>
    private static List<PixelPoint> TrunkWay(PathSearch search, CanalClicks trunk, CanalClicks branch, IReadOnlyList<PathSearch.Detour> avoided)
    {
        var ofBranch = search.Between(branch.Pins);
        var trunkFirst = search.AlongBright([.. Elsewhere(trunk, null, 0), .. avoided]);
        var branchSecond = ofBranch.AlongBright([.. BeyondSplit(trunkFirst, branch.Pins[0].At), .. avoided]);
        var branchFirst = ofBranch.AlongBright([new PathSearch.Detour(trunk.Pins[^1].At, AroundEndPixels), .. avoided]);
        var trunkSecond = search.AlongBright([.. Elsewhere(trunk, null, 0), .. BeyondSplit(branchFirst, branch.Pins[0].At), .. avoided]);
        return Cost(trunkSecond, branchFirst) < Cost(trunkFirst, branchSecond) ? trunkSecond : trunkFirst;

        double Cost(List<PixelPoint> one, List<PixelPoint> other) => search.CostAlongBright(one) + search.CostAlongBright(other);
    }

    private static List<PathSearch.Detour> BeyondSplit(List<PixelPoint> way, PixelPoint split)
    {
        var path = new CanalPath(way);
        var detours = new List<PathSearch.Detour>();
        for (var level = NearestLevel(path, split).Level + PastSplitPixels; level <= path.LengthPixels; level += 5)
        {
            detours.Add(new PathSearch.Detour(path.At(level), BesideTrunkPixels));
        }

        return detours;
    }

    /// <summary>Where a branch must not run: along its parent past the split, and to the ends of its own branches.</summary>
    private static List<PathSearch.Detour> Elsewhere(CanalClicks clicks, TracedBranch? parent, double ownFrom)
    {
        var elsewhere = clicks.Branches.Select(branch => new PathSearch.Detour(branch.Pins[^1].At, AroundEndPixels)).ToList();
        for (var level = ownFrom + PastSplitPixels; parent is not null && level <= parent.Path.LengthPixels; level += 5)
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
