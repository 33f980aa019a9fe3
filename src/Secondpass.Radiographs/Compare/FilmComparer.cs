using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Pixels;
using Secondpass.Radiographs.Register;
using Secondpass.Radiographs.Trace;

namespace Secondpass.Radiographs.Compare;

/// <summary>From a film before and a film after to what is left of the filling in each canal branch.</summary>
public static class FilmComparer
{
    /// <summary>Taken for windows and thicknesses where the film has no scale; shares hardly depend on it.</summary>
    private const double UsualMillimetresPerPixel = 0.03;

    private const double RodSpacingPixels = 3;

    /// <summary>The choices of blur are a third apart: two steps softer is another film's blur.</summary>
    private const double SofterThanTheFilm = 1.5;

    /// <summary>With what blur adds, an outline that covers a filling's shadow and leaves what shows between two that lie near each other.</summary>
    private const double OutlineMarginPixels = -1;

    private const double LeastLikeness = 0.38;
    private const double ClearLikeness = 0.52;
    private const double LeastShared = 0.6;

    /// <summary>Compares two films of one tooth.</summary>
    /// <param name="request">Films, scales, canals marked on the film before (pixels of that film), and the state of the film after.</param>
    /// <returns>
    /// Mass and area left per branch and third with 95 % intervals, in percent; or the refusal of the pair: no or wrong
    /// marks, films that can't be laid over each other, too little shared, too much change of angle, a mirrored film.
    /// A single branch that can't be judged is refused within the result.
    /// </returns>
    /// <remarks>
    /// Valid for films of one tooth turned against each other by up to 15° in their plane, resized by 0.9 to 1.1, and taken
    /// at angles up to about 8° apart; from 6° on more and more pairs are refused as looking unlike. The method and its accuracy on simulated films stand in docs/models/what-is-left.md.
    /// </remarks>
    public static Answer<Comparison> Compare(ComparisonRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        if (CheckMarks(request) is { } refusal)
        {
            return refusal;
        }

        var asStored = GreyImage.From(request.Before);
        var searches = SideBySide.Each(request.Canals, canal =>
        {
            var search = PathSearch.Around(asStored, canal.Pins);
            return (Search: search, Told: search.Tell());
        });

        // Films are told apart from inverted ones by the canal whose line is strongest.
        var inverted = !searches.MaxBy(one => one.Told.Strength).Told.BrightLine;
        var before = inverted ? GreyImage.From(request.Before, inverted) : asStored;
        var traced = new List<CanalTracer.TracedWithRods>();
        foreach (var answer in SideBySide.Each([.. request.Canals.Zip(searches)], each => CanalTracer.TraceUpright(
            before,
            request.BeforeScale,
            each.First,
            inverted ? each.Second.Search.Inverted() : each.Second.Search)))
        {
            if (!answer.TryGet(out var canal, out var refused))
            {
                return refused;
            }

            traced.Add(canal);
        }

        if (!UnfilledCanals.Of(
            before,
            () => inverted ? asStored : GreyImage.From(request.Before, inverted: true),
            request.BeforeScale,
            request.Canals,
            traced,
            [.. searches.Select(one => one.Told.OtherShare)]).TryGet(out var told, out var untraceable))
        {
            return untraceable;
        }

        if (!PartedWays.Of(before, request.Canals, told, (i, avoided) => CanalTracer.TraceUpright(
            before,
            request.BeforeScale,
            request.Canals[i],
            inverted ? searches[i].Search.Inverted() : searches[i].Search,
            avoided: avoided)).TryGet(out var parted, out var unparted))
        {
            return unparted;
        }

        return Judge(
            request,
            before,
            inverted,
            [.. parted.SelectMany(canal => canal.Branch.SelfAndBelow())],
            [.. parted.SelectMany(canal => canal.Rods)]);
    }

    private static Refusal? CheckMarks(ComparisonRequest request)
    {
        if (request.Before.Photographed is not null || request.After.Photographed is not null)
        {
            return CompareRefusals.FromPhotograph(
                request.After.Photographed is null ? "The film before was" : request.Before.Photographed is null ? "The film after was" : "Both films were");
        }

        if (request.Canals.Count == 0)
        {
            return CompareRefusals.NoCanal();
        }

        if (request.Landmarks.Count == 1)
        {
            return CompareRefusals.OneLandmark();
        }

        foreach (var pair in request.Landmarks)
        {
            if (!request.Before.Holds(pair.OnBefore))
            {
                return CompareRefusals.LandmarkOutside(pair.OnBefore, "before");
            }

            if (!request.After.Holds(pair.OnAfter))
            {
                return CompareRefusals.LandmarkOutside(pair.OnAfter, "after");
            }
        }

        var names = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        foreach (var canal in request.Canals)
        {
            if (CanalTracer.Check(request.Before, canal) is { } refusal)
            {
                return refusal;
            }

            foreach (var branch in canal.SelfAndBelow())
            {
                if (!names.Add(branch.Name))
                {
                    return TraceRefusals.NamedTwice(branch.Name);
                }
            }
        }

        return null;
    }

    private static Answer<Comparison> Judge(ComparisonRequest request, GreyImage before, bool inverted, TracedBranch[] branches, RodProfile[] tracedRods)
    {
        var millimetres = request.BeforeScale?.MillimetresPerPixel ?? UsualMillimetresPerPixel;
        var rods = RodsOfOneFilm(before, branches, tracedRods);
        var courses = branches.Select((branch, i) => RodCourse.From(rods[i], branch.Filling.FilledToPixels?.Value)).ToArray();
        var mask = FillingMask.Of(before.Width, before.Height, branches, courses, 4);
        var open = mask.Open();
        var region = CanalRegion.Around(before.Width, before.Height, [.. branches.Select(branch => branch.Path)], 4.5 / millimetres, 0.06);
        for (var i = 0; i < region.Values.Length; i++)
        {
            region.Values[i] *= open.Values[i];
        }

        var after = GreyImage.From(request.After);
        var ratio = request is { BeforeScale: { } b, AfterScale: { } a } ? b.MillimetresPerPixel / a.MillimetresPerPixel : 1;
        var match = FilmRegistrar.Find(before, after, region, ratio, request.Landmarks);
        if (Unusable(match, ratio) is { } refusal)
        {
            return LooksMirrored(before, after, region, ratio, match) ? CompareRefusals.Mirrored() : refusal;
        }

        if (match.Inverted)
        {
            after = GreyImage.From(request.After, inverted: true);
        }

        var map = match.BeforeToAfter;
        var softBefore = Smooth.Shrink(Smooth.Gaussian(before, 1.2), 2);
        var softAfter = Smooth.Shrink(Smooth.Gaussian(after, 1.2), 2);
        var smallOpen = Smooth.Shrink(open, 2);
        var grey = GreyMatch.Fit(Pairs(softBefore, softAfter, smallOpen, map), GreyRange.Of(after), GreyRange.Of(before));
        if (Doubtful(before, after, region, ratio, match, grey) is { } doubt)
        {
            return doubt;
        }

        // Films are found again and matched on their own greys; rods and shares are read on straight ones.
        var curve = CharacteristicCurveFinder.Find(before, branches, rods);
        var straight = curve.Of(before);
        var straightGrey = grey.To(curve.Of, curve.SlopeAt(Ranks.Median([.. rods.SelectMany(rod => rod.Rods).Select(rod => rod.Background)])));
        var firstOutlines = Outlines(before, branches, courses);
        rods = SideBySide.Each([.. branches.Zip(rods).Index()], each => RodProfile.Along(
            straight,
            each.Item.First.Path,
            RodSpacingPixels,
            each.Item.Second.BlurPixels,
            isOthers: place => firstOutlines.CoveredByOther(place, each.Index)));
        courses = [.. branches.Select((branch, i) => RodCourse.From(rods[i], branch.Filling.FilledToPixels?.Value))];
        var outlines = Outlines(before, branches, courses);
        var shifts = LocalShiftFinder.FindTogether(SideBySide.Each([.. branches.Index()], each => (each.Item.Path, (IReadOnlyList<ShiftCurve>)
        [
            .. CanalShiftCurves.Find(straight, after, straightGrey, map, each.Item, courses[each.Index], mask, each.Index),
            .. OutlineShiftCurves.Find(straight, after, straightGrey, map, each.Item.Path, rods[each.Index], OtherCanals(branches, each.Item), millimetres),
        ])));
        var strips = new CanalStrips[branches.Length];
        for (var i = 0; i < branches.Length; i++)
        {
            var branch = i;
            strips[i] = CanalStrips.Make(before, after, branches[i], courses[i], map, shifts[i], grey, curve, place => outlines.CoveredByOther(place, branch));
        }

        var judged = new ResidueJudge(request, branches, courses, shifts, strips, match, straightGrey, grey, straight, after, millimetres).Judge(inverted);
        return judged with
        {
            Moved = MovedMaterialFinder.Find(judged.Branches, straight, after, branches, courses, strips, shifts, map, straightGrey, millimetres),
        };
    }

    private static FillingMask Outlines(GreyImage before, TracedBranch[] branches, RodCourse[] courses) =>
        FillingMask.Of(before.Width, before.Height, branches, courses, OutlineMarginPixels);

    /// <summary>Paths of the canals that a branch doesn't belong to.</summary>
    private static IReadOnlyList<CanalPath> OtherCanals(TracedBranch[] branches, TracedBranch branch) =>
        [.. branches.Where(other => !other.SelfAndBelow().Contains(branch) && !branch.SelfAndBelow().Contains(other)).Select(other => other.Path)];

    /// <summary>
    /// Rods along all branches with one blur: a film has but one, and a branch that lies half over another looks softer than it is.
    /// </summary>
    private static RodProfile[] RodsOfOneFilm(GreyImage before, TracedBranch[] branches, RodProfile[] rods)
    {
        var sharpest = rods.Min(rod => rod.BlurPixels);
        return SideBySide.Each([.. rods.Zip(branches)], each => each.First.BlurPixels > SofterThanTheFilm * sharpest
            ? RodProfile.Along(before, each.Second.Path, RodSpacingPixels, sharpest)
            : each.First);
    }

    /// <summary>
    /// Films that are only vaguely alike are taken for one tooth where what did not change has the same grey on both, place by
    /// place, through one curve; two teeth of a kind can look alike, but then greys don't.
    /// </summary>
    private static Refusal? Doubtful(GreyImage before, GreyImage after, GreyImage region, double ratio, GlobalMatch match, GreyMatch grey)
    {
        if (match.Likeness >= ClearLikeness)
        {
            return null;
        }

        if (LooksMirrored(before, after, region, ratio, match))
        {
            return CompareRefusals.Mirrored();
        }

        return grey.RestDeviation > GreatestGreyRest(match.Likeness) * GreyRange.Of(before).Span ? CompareRefusals.DifferentTooth(match.Likeness) : null;
    }

    /// <summary>
    /// How far greys of unchanged places may stray from one curve, as a share of the film's range: less where the films are hardly
    /// alike. Set on the first generator: 70 pairs of two teeth (seeds 700 to 769; the nearest 0.0053 at a likeness of 0.40) and
    /// 50 true pairs at angles to 10° (seeds 3000 to 3049; the farthest 0.0046 at 0.44).
    /// </summary>
    private static double GreatestGreyRest(double likeness) => 0.005 + (0.0333 * (likeness - 0.4));

    /// <summary>Whether the film after fits clearly better when it is turned over.</summary>
    private static bool LooksMirrored(GreyImage before, GreyImage after, GreyImage region, double ratio, GlobalMatch match)
    {
        var turned = new GreyImage(after.Width, after.Height);
        for (var y = 0; y < after.Height; y++)
        {
            for (var x = 0; x < after.Width; x++)
            {
                turned[x, y] = after[after.Width - 1 - x, y];
            }
        }

        var mirrored = FilmRegistrar.Find(before, turned, region, ratio, []).Likeness;
        return mirrored > Math.Max(ClearLikeness, match.Likeness + 0.1);
    }

    private static Refusal? Unusable(GlobalMatch match, double ratio)
    {
        if (match.Shared < LeastShared && match.Likeness > LeastLikeness)
        {
            return CompareRefusals.TooLittleShared(match.Shared);
        }

        if (match.Likeness < LeastLikeness)
        {
            return CompareRefusals.DifferentTooth(match.Likeness);
        }

        var factor = match.BeforeToAfter.Factor / ratio;
        return match.BeforeToAfter.Evenness < 0.8 || factor is < 0.8 or > 1.25
            ? CompareRefusals.Distorted(match.BeforeToAfter.Evenness, factor)
            : null;
    }

    /// <summary>Grey on both films of places that no filling covers.</summary>
    internal static List<(float After, float Before)> Pairs(GreyImage before, GreyImage after, GreyImage open, PlaneMap map)
    {
        var small = map.Shrunk(2);
        var pairs = new List<(float After, float Before)>();
        for (var y = 1; y < before.Height - 1; y += 3)
        {
            for (var x = 1; x < before.Width - 1; x += 3)
            {
                if (open[x, y] < 0.99f)
                {
                    continue;
                }

                var on = small.Of(new PixelPoint(x, y));
                if (on.X >= 1 && on.Y >= 1 && on.X <= after.Width - 2 && on.Y <= after.Height - 2)
                {
                    pairs.Add((after.At(on.X, on.Y), before[x, y]));
                }
            }
        }

        return pairs;
    }
}
