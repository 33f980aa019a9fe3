using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Radiographs.Pixels;

namespace Secondpass.Radiographs.Trace;

/// <summary>Parts canals that were traced along one filling although each has its own beside it.</summary>
/// <remarks>
/// Traced alone, a canal with a thin or short filling runs along its neighbour's, whose way is cheaper, and jumps over to its own end.
/// Each of two such canals is traced once more keeping off the other's filling. A way is taken only where it finds a filling; where both
/// do, the cheaper pair of ways wins. Fillings that lie over each other on the film have no second way and stay as they are.
/// </remarks>
internal static class PartedWays
{
    /// <summary>How much of a filling two canals must share before they are parted, in pixels: more than where two fillings cross.</summary>
    private const double LeastSharedPixels = 45;

    /// <summary>What a canal must find of a filling that the other doesn't run along, in pixels.</summary>
    private const double LeastOwnPixels = 45;

    /// <summary>What that filling must stand out by, as a share of the other's: less is dentine or bone.</summary>
    private const double LeastStrengthShare = 0.4;

    /// <summary>How far the middles of two rods may lie apart to be of the same filling, in pixels.</summary>
    private const double SamePixels = 3;

    /// <summary>How far from a filling's edge another way must keep, in pixels.</summary>
    private const double KeepOffPixels = 2;

    private const double DetourSpacingPixels = 5;

    /// <summary>Parts the canals of one film.</summary>
    /// <param name="image">Grey values; filling is brighter than dentine.</param>
    /// <param name="canals">The marks of each canal.</param>
    /// <param name="alone">Each as it was traced alone.</param>
    /// <param name="trace">Traces one of them anew around places to keep off.</param>
    /// <returns>The canals in the same order, or the refusal of one that can't be traced anew.</returns>
    public static Answer<CanalTracer.TracedWithRods[]> Of(
        GreyImage image,
        IReadOnlyList<CanalClicks> canals,
        IReadOnlyList<CanalTracer.TracedWithRods> alone,
        Func<int, IReadOnlyList<PathSearch.Detour>, Answer<CanalTracer.TracedWithRods>> trace)
    {
        CanalTracer.TracedWithRods[] traced = [.. alone];
        for (var one = 0; one < traced.Length; one++)
        {
            for (var other = one + 1; other < traced.Length; other++)
            {
                if (traced[one].Branch.IsThroughMarks || traced[other].Branch.IsThroughMarks || SharedPixels(traced[one], traced[other]) < LeastSharedPixels)
                {
                    continue;
                }

                if (!trace(one, Along(traced[other])).TryGet(out var oneAside, out var refusal)
                    || !trace(other, Along(traced[one])).TryGet(out var otherAside, out refusal))
                {
                    return refusal;
                }

                var oneFinds = FindsOwn(oneAside, traced[other]);
                var otherFinds = FindsOwn(otherAside, traced[one]);
                if (!oneFinds && !otherFinds)
                {
                    continue;
                }

                var search = PathSearch.Around(image, [.. canals[one].Pins, .. canals[other].Pins]);
                double Cost(CanalTracer.TracedWithRods first, CanalTracer.TracedWithRods second) =>
                    CostOf(search, canals[one], first.Branch.Path) + CostOf(search, canals[other], second.Branch.Path);
                if (!otherFinds || (oneFinds && Cost(oneAside, traced[other]) < Cost(traced[one], otherAside)))
                {
                    traced[one] = oneAside;
                }
                else
                {
                    traced[other] = otherAside;
                }
            }
        }

        return traced;
    }

    /// <summary>What a way costs, and what its marks lie off it: as much as a way off any filling.</summary>
    private static double CostOf(PathSearch search, CanalClicks clicks, CanalPath path) =>
        search.CostAlongBright(path.Points) + clicks.Pins.Sum(pin => PathSearch.FlatCost * FillingOverlap.NearestTo(path, pin.At).Distance);

    /// <summary>How much of a canal's filling is the other's too, in pixels along it.</summary>
    private static double SharedPixels(CanalTracer.TracedWithRods one, CanalTracer.TracedWithRods other)
    {
        var rods = one.Rods[0];
        return rods.SpacingPixels * Enumerable.Range(0, rods.Filled.Length).Count(i => rods.Filled[i] && IsSame(one, i, other));
    }

    private static bool FindsOwn(CanalTracer.TracedWithRods one, CanalTracer.TracedWithRods other)
    {
        var rods = one.Rods[0];
        var least = LeastStrengthShare * other.Rods[0].UsualContrast;
        int[] filled = [.. Enumerable.Range(0, rods.Filled.Length).Where(i => rods.Filled[i])];
        int[] own = [.. filled.Where(i => !IsSame(one, i, other) && rods.Rods[i].Contrast(rods.BlurPixels) >= least)];
        return own.Length * rods.SpacingPixels >= LeastOwnPixels && 2 * own.Length > filled.Length;
    }

    /// <summary>By the distance of both middles, not only across the way: beyond the other's end nothing is the same.</summary>
    private static bool IsSame(CanalTracer.TracedWithRods one, int index, CanalTracer.TracedWithRods other)
    {
        var middle = one.Rods[0].MiddleOn(one.Branch.Path, index);
        var (level, _) = FillingOverlap.NearestTo(other.Branch.Path, middle);
        var there = other.Rods[0].IndexAt(level);
        return other.Rods[0].Filled[there] && other.Rods[0].MiddleOn(other.Branch.Path, there).DistanceTo(middle) < SamePixels;
    }

    private static List<PathSearch.Detour> Along(CanalTracer.TracedWithRods canal)
    {
        var rods = canal.Rods[0];
        var each = Math.Max(1, (int)(DetourSpacingPixels / rods.SpacingPixels));
        var detours = new List<PathSearch.Detour>();
        for (var i = 0; i < rods.Filled.Length; i += each)
        {
            if (rods.Filled[i])
            {
                detours.Add(new PathSearch.Detour(rods.MiddleOn(canal.Branch.Path, i), rods.Rods[i].RadiusPixels + KeepOffPixels));
            }
        }

        return detours;
    }
}
