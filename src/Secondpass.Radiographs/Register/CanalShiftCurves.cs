using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Pixels;
using Secondpass.Radiographs.Trace;

namespace Secondpass.Radiographs.Register;

/// <summary>Finds a canal again on the film after by what may be there: whatever is left of a filling lies inside its old outline, and so does the dark of the emptied part.</summary>
/// <remarks>
/// At each level and for each shift across, grey brighter than the old filling would be, or darker than an empty canal
/// would be, counts against the shift; between these bounds anything goes.
/// </remarks>
internal static class CanalShiftCurves
{
    private const double LevelStepPixels = 4;

    /// <summary>Next to the orifice crown, core and access change what lies beside the canal.</summary>
    private const double OrificePixels = 20;
    private const int SidePixels = 12;

    /// <summary>How much wider than the filling the emptied canal may be on each side, in pixels: instruments cut some dentine.</summary>
    private const double WidenedPixels = 4;

    /// <summary>Dark of an empty canal over the contrast of its filling, at most.</summary>
    private const double DarkestShare = 0.22;

    /// <summary>Neighbouring pixels and levels share structure: about this many count as one.</summary>
    private const double PixelsPerOpinion = 30;

    /// <summary>Costs of shifts across, level by level.</summary>
    /// <param name="before">Grey values of the film before.</param>
    /// <param name="after">Grey values of the film after, turned over if it is inverted.</param>
    /// <param name="grey">From grey after to grey before.</param>
    /// <param name="map">From the film before to the film after.</param>
    /// <param name="traced">The branch on the film before.</param>
    /// <param name="rods">Its filling before.</param>
    /// <param name="mask">All fillings before.</param>
    /// <param name="branch">The branch's place in the mask.</param>
    public static List<ShiftCurve> Find(GreyImage before, GreyImage after, GreyMatch grey, PlaneMap map, TracedBranch traced, RodCourse rods, FillingMask mask, int branch)
    {
        var path = traced.Path;
        var ownFrom = traced.OwnFromPixels;
        var last = Math.Min(path.LengthPixels, rods.LastLevel);
        var levels = new List<double>();
        for (var level = Math.Max(ownFrom, OrificePixels); level <= last; level += LevelStepPixels)
        {
            if (rods.At(level).Filled)
            {
                levels.Add(level);
            }
        }

        if (levels.Count < 8)
        {
            return [];
        }

        var costs = new double[levels.Count][];
        var spreads = new double[levels.Count];
        Parallel.For(0, levels.Count, i => (costs[i], spreads[i]) = Costs(before, after, grey, map, path, levels[i], rods, mask, branch));
        var known = spreads.Where(double.IsFinite).ToArray();
        if (known.Length < 8)
        {
            return [];
        }

        var scale = Ranks.Median(known);
        var curves = new List<ShiftCurve>();
        for (var i = 0; i < levels.Count; i++)
        {
            if (double.IsFinite(spreads[i]))
            {
                var along = path.DirectionAt(levels[i], 6);
                curves.Add(ShiftCurve.From(levels[i], new PixelPoint(along.Y, -along.X), onOutline: false, costs[i], scale * scale * PixelsPerOpinion));
            }
        }

        return curves;
    }

    private static (double[] Cost, double Spread) Costs(
        GreyImage before,
        GreyImage after,
        GreyMatch grey,
        PlaneMap map,
        CanalPath path,
        double level,
        RodCourse rods,
        FillingMask mask,
        int branch)
    {
        var rod = rods.At(level);
        var canal = rod.RadiusPixels + (2.5 * rods.BlurPixels) + WidenedPixels;
        var reach = (int)Math.Ceiling(canal + SidePixels);
        var wide = reach + ShiftCurve.GreatestShiftPixels;
        var along = path.DirectionAt(level, 6);
        var left = new PixelPoint(along.Y, -along.X);
        var middle = path.At(level) + (left * rod.CentrePixels);
        var seen = new double[(2 * wide * ShiftCurve.StepsPerPixel) + 1];
        for (var i = 0; i < seen.Length; i++)
        {
            var place = middle + (left * (((double)i / ShiftCurve.StepsPerPixel) - wide));
            for (var step = -1; step <= 1; step++)
            {
                var on = map.Of(place + (along * (2 * step)));
                seen[i] += grey.Of(after.At(on.X, on.Y)) / 3;
            }
        }

        var (ground, high, low) = Expected(before, middle, along, left, rod.RadiusPixels, rods, reach, mask, branch);
        var shifts = (2 * ShiftCurve.GreatestShiftPixels * ShiftCurve.StepsPerPixel) + 1;
        var cost = new double[shifts];
        var spread = double.PositiveInfinity;
        var away = new double[ground.Length];
        var outside = new double[ground.Length];
        for (var k = 0; k < shifts; k++)
        {
            var count = 0;
            for (var i = 0; i < ground.Length; i++)
            {
                away[i] = seen[(i * ShiftCurve.StepsPerPixel) + k] - ground[i];
                if (high[i] - low[i] <= 0)
                {
                    outside[count++] = away[i];
                }
            }

            if (count < 12)
            {
                return (cost, double.PositiveInfinity);
            }

            var offset = Ranks.Median(outside.AsSpan(0, count));
            spread = Math.Min(spread, Ranks.RobustDeviation(outside.AsSpan(0, count)));
            double sum = 0;
            for (var i = 0; i < ground.Length; i++)
            {
                var stands = away[i] - offset;
                var beyond = stands > high[i] ? stands - high[i] : stands < low[i] ? low[i] - stands : 0;
                sum += double.IsFinite(beyond) ? Tamed(beyond, rods.GreyPerPixel) : 0;
            }

            cost[k] = sum;
        }

        return (cost, Math.Max(spread, 1e-3));
    }

    /// <summary>Grows like the square, then evenly: other things on the film must not outvote the canal.</summary>
    private static double Tamed(double beyond, double greyPerPixel)
    {
        var tame = 3 * greyPerPixel;
        return beyond < tame ? beyond * beyond : tame * ((2 * beyond) - tame);
    }

    /// <summary>
    /// What the film before shows at each offset with its filling taken off, and how far above and below that the film
    /// after may lie; places under another canal's filling may lie anywhere.
    /// </summary>
    private static (double[] Ground, double[] High, double[] Low) Expected(
        GreyImage before,
        PixelPoint middle,
        PixelPoint along,
        PixelPoint left,
        double radius,
        RodCourse rods,
        int reach,
        FillingMask mask,
        int branch)
    {
        var ground = new double[(2 * reach) + 1];
        var high = new double[ground.Length];
        var low = new double[ground.Length];
        var filled = radius + (2.5 * rods.BlurPixels);
        for (var i = 0; i < ground.Length; i++)
        {
            var offset = i - reach;
            var place = middle + (left * offset);
            for (var step = -1; step <= 1; step++)
            {
                var at = place + (along * (2 * step));
                ground[i] += before.At(at.X, at.Y) / 3;
            }

            if (mask.CoveredByOther(place, branch))
            {
                (high[i], low[i]) = (double.PositiveInfinity, double.NegativeInfinity);
            }
            else if (Math.Abs(offset) <= filled + WidenedPixels)
            {
                high[i] = 1.1 * rods.GreyPerPixel * BlurredCylinder.Thickness(offset, radius, rods.BlurPixels);
                low[i] = -DarkestShare * rods.GreyPerPixel * BlurredCylinder.Thickness(offset, radius + WidenedPixels, rods.BlurPixels);
            }
        }

        // Under the filling the ground is bridged from side to side.
        var from = Math.Max(1, reach - (int)Math.Ceiling(filled));
        var to = Math.Min(ground.Length - 2, reach + (int)Math.Ceiling(filled));
        for (var i = from; i <= to; i++)
        {
            var share = (i - from + 1.0) / (to - from + 2.0);
            ground[i] = ground[from - 1] + (share * (ground[to + 1] - ground[from - 1]));
        }

        return (ground, high, low);
    }
}
