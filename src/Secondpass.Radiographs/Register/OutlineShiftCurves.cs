using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Pixels;
using Secondpass.Radiographs.Trace;

namespace Secondpass.Radiographs.Register;

/// <summary>What the root's own outline says of the local shift: on both sides of the canal, and around its tip.</summary>
/// <remarks>
/// The outline of a root lies at the depth of its canal, so it moves with it when the angle changes; bone and other roots
/// move otherwise. Along each place of the outline a profile across it is looked for on the film after.
/// </remarks>
internal static class OutlineShiftCurves
{
    private const double LevelStepPixels = 6;
    private const int ProfileReachPixels = 9;
    private const int AlongReachPixels = 4;
    private const double LeastWallMillimetres = 0.35;
    private const double GreatestWallMillimetres = 3.2;
    private const int Rays = 13;
    private const double PixelsPerOpinion = 12;

    /// <summary>Costs of shifts across the outline, place by place; places that lie nearer to one of the other canals are left out.</summary>
    public static List<ShiftCurve> Find(
        GreyImage before,
        GreyImage after,
        GreyMatch grey,
        PlaneMap map,
        CanalPath path,
        RodProfile rods,
        IReadOnlyList<CanalPath> others,
        double millimetresPerPixel)
    {
        var places = new List<(double Level, PixelPoint Place, PixelPoint Outward)>();
        foreach (var side in (ReadOnlySpan<int>)[1, -1])
        {
            var surface = RootSurface.Find(
                before,
                path,
                rods,
                side,
                LevelStepPixels,
                LeastWallMillimetres / millimetresPerPixel,
                GreatestWallMillimetres / millimetresPerPixel);
            AddSide(places, path, rods, surface, side);
        }

        AddTip(places, before, path, millimetresPerPixel);
        places.RemoveAll(place => IsOfAnother(place.Place, path, others));
        var curves = new ShiftCurve?[places.Count];
        Parallel.For(0, places.Count, i =>
        {
            var (level, place, outward) = places[i];
            curves[i] = Curve(before, after, grey, map, level, place, outward);
        });
        return [.. curves.OfType<ShiftCurve>()];
    }

    /// <summary>
    /// Whether an outline lies nearer to another canal: roots stand behind each other, and the outline next to a canal on the
    /// film may be that of the root before it.
    /// </summary>
    private static bool IsOfAnother(PixelPoint place, CanalPath path, IReadOnlyList<CanalPath> others)
    {
        var own = DistanceTo(path, place);
        return others.Any(other => DistanceTo(other, place) < own);
    }

    private static double DistanceTo(CanalPath path, PixelPoint place) => path.Points.Min(point => point.DistanceTo(place));

    private static void AddSide(
        List<(double Level, PixelPoint Place, PixelPoint Outward)> places,
        CanalPath path,
        RodProfile rods,
        RootSurface surface,
        int side)
    {
        var spacing = rods.SpacingPixels;
        PixelPoint PlaceOf(int i)
        {
            var level = surface.Levels[i];
            var rod = rods.Rods[Math.Clamp((int)Math.Round(level / spacing, MidpointRounding.AwayFromZero), 0, rods.Rods.Length - 1)];
            var along = path.DirectionAt(level, 10);
            return path.At(level) + (new PixelPoint(along.Y, -along.X) * side * ((rod.CentrePixels * side) + rod.RadiusPixels + surface.WallPixels[i]));
        }

        for (var i = 2; i < surface.Levels.Length - 2; i++)
        {
            if (!surface.Clear[i])
            {
                continue;
            }

            var run = PlaceOf(i + 2) - PlaceOf(i - 2);
            var length = double.Hypot(run.X, run.Y);
            if (length > 1)
            {
                places.Add((surface.Levels[i], PlaceOf(i), new PixelPoint(run.Y, -run.X) * (side / length)));
            }
        }
    }

    /// <summary>Finds the outline around the tip along rays that fan out from the canal's end.</summary>
    private static void AddTip(
        List<(double Level, PixelPoint Place, PixelPoint Outward)> places,
        GreyImage before,
        CanalPath path,
        double millimetresPerPixel)
    {
        var end = path.Points[^1];
        var along = path.DirectionAt(path.LengthPixels, 15);
        var left = new PixelPoint(along.Y, -along.X);
        var least = (int)(0.15 / millimetresPerPixel);
        var most = (int)(1.9 / millimetresPerPixel);
        var steps = new double[Rays, most - least];
        for (var ray = 0; ray < Rays; ray++)
        {
            var direction = DirectionOf(ray, along, left);
            for (var distance = least; distance < most; distance++)
            {
                double inner = 0, outer = 0;
                for (var k = 1; k <= 5; k++)
                {
                    var near = end + (direction * (distance - k));
                    var far = end + (direction * (distance + k));
                    inner += before.At(near.X, near.Y);
                    outer += before.At(far.X, far.Y);
                }

                steps[ray, distance - least] = (inner - outer) / 5;
            }
        }

        var chain = RootSurface.BestChain(steps, Rays, most - least);
        for (var ray = 0; ray < Rays; ray++)
        {
            if (chain[ray] > 0 && chain[ray] < most - least - 1 && steps[ray, chain[ray]] > 0)
            {
                var direction = DirectionOf(ray, along, left);
                places.Add((path.LengthPixels, end + (direction * (least + chain[ray])), direction));
            }
        }
    }

    private static PixelPoint DirectionOf(int ray, PixelPoint along, PixelPoint left)
    {
        var angle = ((ray / (Rays - 1.0)) - 0.5) * 2.4;
        return (along * Math.Cos(angle)) + (left * Math.Sin(angle));
    }

    private static ShiftCurve? Curve(GreyImage before, GreyImage after, GreyMatch grey, PlaneMap map, double level, PixelPoint place, PixelPoint outward)
    {
        var tangent = new PixelPoint(-outward.Y, outward.X);
        var known = new double[(2 * ProfileReachPixels) + 1];
        var wide = ProfileReachPixels + ShiftCurve.GreatestShiftPixels;
        var seen = new double[(2 * wide * ShiftCurve.StepsPerPixel) + 1];
        var count = (2 * AlongReachPixels) + 1;
        for (var t = -AlongReachPixels; t <= AlongReachPixels; t++)
        {
            var middle = place + (tangent * t);
            for (var i = 0; i < known.Length; i++)
            {
                var at = middle + (outward * (i - ProfileReachPixels));
                known[i] += before.At(at.X, at.Y) / count;
            }

            for (var i = 0; i < seen.Length; i++)
            {
                var on = map.Of(middle + (outward * (((double)i / ShiftCurve.StepsPerPixel) - wide)));
                if (on.X < 0 || on.Y < 0 || on.X > after.Width - 1 || on.Y > after.Height - 1)
                {
                    return null;
                }

                seen[i] += after.At(on.X, on.Y) / count;
            }
        }

        for (var i = 0; i < seen.Length; i++)
        {
            seen[i] = grey.Of(seen[i]);
        }

        var squares = new double[ShiftCurve.Count];
        for (var k = 0; k < squares.Length; k++)
        {
            double sum = 0, sumSquares = 0;
            for (var i = 0; i < known.Length; i++)
            {
                var away = seen[(i * ShiftCurve.StepsPerPixel) + k] - known[i];
                sum += away;
                sumSquares += away * away;
            }

            squares[k] = sumSquares - (sum * sum / known.Length);
        }

        // A place is worth what its own best match leaves unexplained.
        var unit = Math.Max(squares.Min(), 1e-6) / known.Length * PixelsPerOpinion;
        return ShiftCurve.From(level, outward, onOutline: true, squares, unit);
    }
}
