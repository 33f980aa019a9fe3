using System.Runtime.CompilerServices;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Pixels;

namespace Secondpass.Radiographs.Trace;

/// <summary>The outline of the root on one side of a filling, as the steadiest step from lighter dentine to the darker ligament space.</summary>
/// <param name="Levels">Levels in pixels from the orifice.</param>
/// <param name="WallPixels">Distance from the filling's edge to the outline at each level.</param>
/// <param name="Clear">Whether the outline is clear there and the only one, and the level filled.</param>
/// <param name="Overlapped">Whether another outline stands there too, of another root or a neighbouring tooth, so that the root's own can't be told.</param>
internal sealed record RootSurface(double[] Levels, double[] WallPixels, bool[] Clear, bool[] Overlapped)
{
    private const int GreatestJump = 3;

    /// <summary>How many pixels on either side of a place tell whether the film grows darker there.</summary>
    private const int StepReach = 5;

    // Shares of the chosen step from which another one, or a rise before it, speaks of another root: chosen on simulated films of seeds below 1000.
    private const double RivalShare = 1.3;
    private const double RiseShare = 0.8;

    /// <summary>Finds one side's outline by the best chain of steps (dynamic programming over levels).</summary>
    /// <param name="image">Grey values; filling is brighter than dentine.</param>
    /// <param name="path">The filling's path.</param>
    /// <param name="rods">The filling along it.</param>
    /// <param name="side">+1 left of the way to the end, −1 right.</param>
    /// <param name="levelStep">Distance between levels in pixels.</param>
    /// <param name="leastWall">Least distance from the filling's edge, in pixels.</param>
    /// <param name="greatestWall">Greatest distance, in pixels.</param>
    public static RootSurface Find(
        GreyImage image,
        CanalPath path,
        RodProfile rods,
        int side,
        double levelStep,
        double leastWall,
        double greatestWall)
    {
        var count = Math.Max(2, (int)(path.LengthPixels / levelStep));
        var places = Math.Max(4, (int)(greatestWall - leastWall));
        var levels = new double[count];
        var step = new double[count, places];
        var rodSpacing = rods.SpacingPixels;
        var filled = new bool[count];
        for (var i = 0; i < count; i++)
        {
            levels[i] = (i + 0.5) * path.LengthPixels / count;
            var index = Math.Clamp((int)Math.Round(levels[i] / rodSpacing, MidpointRounding.AwayFromZero), 0, rods.Rods.Length - 1);
            filled[i] = rods.Filled[index];
            Steps(image, path, levels[i], rods.Rods[index], side, leastWall, step, i);
        }

        var chosen = BestChain(step, count, places);
        var strengths = Enumerable.Range(0, count).Select(i => step[i, chosen[i]]).ToArray();
        var all = new double[count * places];
        Buffer.BlockCopy(step, 0, all, 0, all.Length * sizeof(double));
        var spread = Ranks.RobustDeviation(all);
        var found = strengths.Select((strength, i) => filled[i] && strength > 1.5 * spread && chosen[i] > 0 && chosen[i] < places - 1).ToArray();
        var overlapped = found.Select((seen, i) => seen && HasRival(step, i, chosen[i], places, leastWall)).ToArray();
        return new RootSurface(
            levels,
            [.. chosen.Select(place => place + leastWall)],
            [.. found.Zip(overlapped, (seen, other) => seen && !other)],
            overlapped);
    }

    // Steps are averaged over five pixels on each side, so a rival stands farther off than an outline is wide.
    private static bool HasRival(double[,] step, int row, int chosen, int places, double leastWall)
    {
        var apart = Math.Max(10, leastWall);
        for (var place = 0; place < places; place++)
        {
            if ((Math.Abs(place - chosen) > apart && step[row, place] > RivalShare * step[row, chosen])
                || (place < chosen && step[row, place] < -RiseShare * step[row, chosen]))
            {
                return true;
            }
        }

        return false;
    }

    [MethodImpl(Compilation.AtOnce)]
    private static void Steps(GreyImage image, CanalPath path, double level, RodFit rod, int side, double leastWall, double[,] step, int row)
    {
        var along = path.DirectionAt(level, 10);
        var outward = new PixelPoint(along.Y, -along.X) * side;
        var edge = (rod.CentrePixels * side) + rod.RadiusPixels;
        var at = path.At(level);
        var places = step.GetLength(1);

        // Grey values from StepReach places before the first to as many beyond the last, each a mean along the path.
        var grey = new double[places + (2 * StepReach)];
        for (var i = 0; i < grey.Length; i++)
        {
            var distance = edge + leastWall + i - StepReach;
            for (var tangential = -2; tangential <= 2; tangential++)
            {
                var middle = at + (along * (tangential * 2.0));
                grey[i] += image.At(middle.X + (outward.X * distance), middle.Y + (outward.Y * distance)) / 5;
            }
        }

        for (var place = 0; place < places; place++)
        {
            double inner = 0, outer = 0;
            for (var k = 1; k <= StepReach; k++)
            {
                inner += grey[place + StepReach - k];
                outer += grey[place + StepReach + k];
            }

            step[row, place] = (inner - outer) / StepReach;
        }
    }

    internal static int[] BestChain(double[,] step, int count, int places)
    {
        var best = new double[count, places];
        var from = new int[count, places];
        var typical = 0.0;
        for (var i = 0; i < count; i++)
        {
            for (var place = 0; place < places; place++)
            {
                typical += Math.Abs(step[i, place]);
            }
        }

        typical /= count * places;
        for (var place = 0; place < places; place++)
        {
            best[0, place] = step[0, place];
        }

        for (var i = 1; i < count; i++)
        {
            for (var place = 0; place < places; place++)
            {
                var top = double.NegativeInfinity;
                for (var jump = -GreatestJump; jump <= GreatestJump; jump++)
                {
                    var previous = place + jump;
                    if (previous < 0 || previous >= places)
                    {
                        continue;
                    }

                    var sum = best[i - 1, previous] - (0.5 * typical * Math.Abs(jump));
                    if (sum > top)
                    {
                        top = sum;
                        from[i, place] = previous;
                    }
                }

                best[i, place] = top + step[i, place];
            }
        }

        var chosen = new int[count];
        for (var place = 1; place < places; place++)
        {
            if (best[count - 1, place] > best[count - 1, chosen[count - 1]])
            {
                chosen[count - 1] = place;
            }
        }

        for (var i = count - 1; i > 0; i--)
        {
            chosen[i - 1] = from[i, chosen[i]];
        }

        return chosen;
    }
}
