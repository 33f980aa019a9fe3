using Secondpass.Domain.Evidence;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Pixels;
using Secondpass.Radiographs.Register;

namespace Secondpass.Radiographs.Compare;

/// <summary>Finds new radiopaque patches outside the old filling: in the canal above and below it, and beyond the canal's end.</summary>
/// <remarks>
/// The film after, laid over the film before, less the brightest that the film before shows nearby: what only shifted by a few
/// pixels cancels. What stays has to be as dense and as large as bone's own texture never is.
/// </remarks>
internal static class MovedMaterialFinder
{
    private const double BesideMillimetres = 1.5;

    /// <summary>An empty stretch of a canal is hardly traced: the path may run beside it.</summary>
    private const double InCanalMillimetres = 1;

    private const double GroundMillimetres = 1;
    private const double SmoothPixels = 3;

    /// <summary>How far what the film before shows may have moved besides the match, in pixels.</summary>
    private const int SlackPixels = 4;

    /// <summary>Room at the old filling's ends and sides: blur and the match's own error, in pixels.</summary>
    private const double RoomPixels = 8;

    /// <summary>Looks along every branch that has a result: where an instrument, a dressing or a new filling stands, new material is no surprise.</summary>
    public static IReadOnlyList<MovedMaterial> Find(
        IReadOnlyList<BranchResidue> results,
        GreyImage before,
        GreyImage after,
        TracedBranch[] branches,
        RodCourse[] courses,
        CanalStrips[] strips,
        LocalShifts[] shifts,
        PlaneMap map,
        GreyMatch grey,
        double millimetresPerPixel)
    {
        var all = SideBySide.Each([.. Enumerable.Range(0, branches.Length)], i =>
            results[i].Refused is null && courses[i].Any ? Along(i, before, after, branches, courses, strips[i], shifts[i], map, grey, millimetresPerPixel) : []);
        return Once([.. all.SelectMany(found => found)]);
    }

    private static List<MovedMaterial> Along(
        int index,
        GreyImage before,
        GreyImage after,
        TracedBranch[] branches,
        RodCourse[] courses,
        CanalStrips strip,
        LocalShifts shifts,
        PlaneMap map,
        GreyMatch grey,
        double millimetresPerPixel)
    {
        var branch = branches[index];
        var course = courses[index];
        var end = branch.Path.LengthPixels;
        var first = (int)Math.Ceiling(branch.OwnFromPixels);
        var rows = (int)(end + (MovedMaterialLimits.LookedForBeyondEnd.Value / millimetresPerPixel)) - first + 1;
        var reach = (int)((BesideMillimetres + GroundMillimetres) / millimetresPerPixel);
        var columns = (2 * reach) + 1;
        var was = new GreyImage(columns, rows);
        var now = new GreyImage(columns, rows);
        var seen = new bool[rows * columns];
        for (var row = 0; row < rows; row++)
        {
            var shift = shifts.At(Math.Min(first + row, end));
            for (var column = 0; column < columns; column++)
            {
                var place = strip.PlaceOf(row, reach - column);
                var on = map.Of(place + shift);
                seen[(row * columns) + column] = IsInside(before, place) && IsInside(after, on);
                was[column, row] = before.At(place.X, place.Y);
                now[column, row] = (float)grey.Of(after.At(on.X, on.Y));
            }
        }

        was = Smooth.Gaussian(was, SmoothPixels);
        now = Smooth.Gaussian(now, SmoothPixels);
        var brightest = Brightest(was, SlackPixels);
        var ground = Ground(was, now, seen, (int)(GroundMillimetres / millimetresPerPixel));
        var wanted = Wanted(index, branches, courses, strip, first, rows, reach, millimetresPerPixel);
        var thickness = new double[rows * columns];
        for (var row = 0; row < rows; row++)
        {
            for (var column = 0; column < columns; column++)
            {
                var at = (row * columns) + column;
                thickness[at] = wanted[at] is not null && seen[at] ? (now[column, row] - ground[row] - brightest[column, row]) / course.GreyPerPixel : 0;
            }
        }

        return [.. Patches(thickness, rows, columns, MovedMaterialLimits.Edge.Value / millimetresPerPixel)
            .Select(patch => Described(patch, thickness, wanted, strip, first, columns, reach, branch.Name))
            .Where(patch => Counts(patch, millimetresPerPixel))];
    }

    private static bool Counts(MovedMaterial patch, double millimetresPerPixel) =>
        patch.ThicknessPixels * millimetresPerPixel >= MovedMaterialLimits.LeastThickness.Value
        && patch.AreaSquarePixels * millimetresPerPixel * millimetresPerPixel >= MovedMaterialLimits.LeastArea.Value
        && patch.ThicknessPixels >= (patch.Where == MovedTo.BeyondEnd ? MovedMaterialLimits.LeastDepth : MovedMaterialLimits.LeastDepthInCanal).Value * Math.Sqrt(patch.AreaSquarePixels);

    /// <summary>Where a patch would have been moved to, at each place of the grid; null where it is not looked for.</summary>
    private static MovedTo?[] Wanted(int index, TracedBranch[] branches, RodCourse[] courses, CanalStrips strip, int first, int rows, int reach, double millimetresPerPixel)
    {
        var columns = (2 * reach) + 1;
        var wanted = new MovedTo?[rows * columns];
        var course = courses[index];
        var end = branches[index].Path.LengthPixels;
        var own = Enumerable.Range(0, Math.Max(0, (int)course.LastLevel - first + 1)).Where(row => course.At(first + row).Filled).ToArray();
        if (own.Length == 0)
        {
            return wanted;
        }

        var (top, bottom) = (first + TopOfLongest(own), first + own[^1]);
        var others = Discs(index, branches, courses);
        for (var row = 0; row < rows; row++)
        {
            var level = first + row;
            var where = level > Math.Max(end, bottom) ? MovedTo.BeyondEnd
                : level > bottom + RoomPixels ? MovedTo.Deeper
                : level < top - RoomPixels && branches[index].OwnFromPixels <= 0 ? MovedTo.HigherUp
                : (MovedTo?)null;
            if (where is null || (where == MovedTo.BeyondEnd && level < bottom + RoomPixels))
            {
                continue;
            }

            var aside = (where == MovedTo.BeyondEnd ? BesideMillimetres : InCanalMillimetres) / millimetresPerPixel;
            for (var column = 0; column < columns; column++)
            {
                var offset = reach - column;
                if (Math.Abs(offset) <= aside)
                {
                    var place = strip.PlaceOf(row, offset);
                    if (!others.Exists(disc => disc.Middle.DistanceTo(place) < disc.RadiusPixels))
                    {
                        wanted[(row * columns) + column] = where;
                    }
                }
            }
        }

        return wanted;
    }

    /// <summary>Where the longest run of rows begins: what fills the crown passes for a bit of filling at the orifice.</summary>
    private static int TopOfLongest(int[] rows)
    {
        var (best, longest, start) = (rows[0], 0, 0);
        for (var i = 0; i < rows.Length; i++)
        {
            if (i > 0 && rows[i] != rows[i - 1] + 1)
            {
                start = i;
            }

            if (i - start + 1 > longest)
            {
                (best, longest) = (rows[start], i - start + 1);
            }
        }

        return best;
    }

    /// <summary>The fillings of other branches, with room for how far they move against this one.</summary>
    private static List<(PixelPoint Middle, double RadiusPixels)> Discs(int index, TracedBranch[] branches, RodCourse[] courses)
    {
        const double Parallax = 14;
        return
        [
            .. Enumerable.Range(0, branches.Length)
                .Where(other => other != index)
                .SelectMany(other => CanalOverlap.Discs(branches[other], courses[other]))
                .Select(disc => (disc.Middle, disc.RadiusPixels + Parallax)),
        ];
    }

    private static bool IsInside(GreyImage image, PixelPoint place) => place.X >= 3 && place.Y >= 3 && place.X <= image.Width - 4 && place.Y <= image.Height - 4;

    /// <summary>The brightest within a square about each place.</summary>
    private static GreyImage Brightest(GreyImage image, int reach)
    {
        var along = new GreyImage(image.Width, image.Height);
        var both = new GreyImage(image.Width, image.Height);
        for (var y = 0; y < image.Height; y++)
        {
            for (var x = 0; x < image.Width; x++)
            {
                var most = float.MinValue;
                for (var k = Math.Max(0, x - reach); k <= Math.Min(image.Width - 1, x + reach); k++)
                {
                    most = Math.Max(most, image[k, y]);
                }

                along[x, y] = most;
            }
        }

        for (var y = 0; y < image.Height; y++)
        {
            for (var x = 0; x < image.Width; x++)
            {
                var most = float.MinValue;
                for (var k = Math.Max(0, y - reach); k <= Math.Min(image.Height - 1, y + reach); k++)
                {
                    most = Math.Max(most, along[x, k]);
                }

                both[x, y] = most;
            }
        }

        return both;
    }

    /// <summary>By how much the film after is brighter round about, row by row: the middle value over some rows.</summary>
    private static double[] Ground(GreyImage was, GreyImage now, bool[] seen, int rowsAbout)
    {
        const int Step = 4;
        var ground = new double[was.Height];
        for (var from = 0; from < was.Height; from += Step)
        {
            var differences = new List<double>();
            for (var row = Math.Max(0, from - rowsAbout); row <= Math.Min(was.Height - 1, from + rowsAbout); row += 2)
            {
                for (var column = 0; column < was.Width; column += 2)
                {
                    if (seen[(row * was.Width) + column])
                    {
                        differences.Add(now[column, row] - was[column, row]);
                    }
                }
            }

            var middle = differences.Count == 0 ? 0 : Ranks.Median([.. differences]);
            Array.Fill(ground, middle, from, Math.Min(Step, was.Height - from));
        }

        return ground;
    }

    private static List<List<int>> Patches(double[] thickness, int rows, int columns, double edge)
    {
        var taken = new bool[thickness.Length];
        var patches = new List<List<int>>();
        for (var start = 0; start < thickness.Length; start++)
        {
            if (taken[start] || thickness[start] < edge)
            {
                continue;
            }

            var patch = new List<int>();
            var open = new Stack<int>([start]);
            taken[start] = true;
            while (open.TryPop(out var at))
            {
                patch.Add(at);
                var (row, column) = (at / columns, at % columns);
                foreach (var (y, x) in (ReadOnlySpan<(int, int)>)[(row - 1, column), (row + 1, column), (row, column - 1), (row, column + 1)])
                {
                    var next = (y * columns) + x;
                    if (y >= 0 && y < rows && x >= 0 && x < columns && !taken[next] && thickness[next] >= edge)
                    {
                        taken[next] = true;
                        open.Push(next);
                    }
                }
            }

            patches.Add(patch);
        }

        return patches;
    }

    private static MovedMaterial Described(List<int> patch, double[] thickness, MovedTo?[] wanted, CanalStrips strip, int first, int columns, int reach, string name)
    {
        var peak = patch.MaxBy(at => thickness[at]);
        var levels = patch.Select(at => first + (at / columns)).ToArray();
        var row = patch.Average(at => at / columns);
        var column = patch.Average(at => at % columns);
        return new MovedMaterial(
            name,
            wanted[peak]!.Value,
            levels.Min(),
            levels.Max() + 1,
            strip.PlaceOf((int)Math.Round(row, MidpointRounding.AwayFromZero), reach - column),
            patch.Count,
            thickness[peak]);
    }

    /// <summary>What two branches both found is told once, with the branch in whose grid it is larger.</summary>
    private static List<MovedMaterial> Once(List<MovedMaterial> found)
    {
        const double SamePixels = 20;
        var kept = new List<MovedMaterial>();
        foreach (var patch in found.OrderByDescending(patch => patch.AreaSquarePixels))
        {
            if (!kept.Exists(other => other.Middle.DistanceTo(patch.Middle) < SamePixels))
            {
                kept.Add(patch);
            }
        }

        return kept;
    }
}
