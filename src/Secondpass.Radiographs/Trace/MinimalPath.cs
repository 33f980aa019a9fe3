using System.Runtime.CompilerServices;
using Secondpass.Radiographs.Pixels;

namespace Secondpass.Radiographs.Trace;

/// <summary>
/// The cheapest way between two pixels over a grid of costs: each step to one of eight neighbours costs its length times the mean cost of its two pixels.
/// </summary>
/// <remarks>Dijkstra, Numerische Mathematik 1959;1:269–271.</remarks>
internal static class MinimalPath
{
    private static readonly int[] StepX = [1, -1, 0, 0, 1, 1, -1, -1];
    private static readonly int[] StepY = [0, 0, 1, -1, 1, -1, 1, -1];

    /// <summary>Finds the cheapest way.</summary>
    /// <param name="cost">Cost per pixel of way, positive, row by row.</param>
    /// <param name="width">Columns of the grid.</param>
    /// <param name="height">Rows of the grid.</param>
    /// <param name="from">First pixel.</param>
    /// <param name="to">Last pixel.</param>
    /// <returns>The pixels from first to last, both included, and the total cost.</returns>
    [MethodImpl(Compilation.AtOnce)]
    public static (List<(int X, int Y)> Pixels, double TotalCost) Find(
        ReadOnlySpan<float> cost,
        int width,
        int height,
        (int X, int Y) from,
        (int X, int Y) to)
    {
        var best = new float[width * height];
        Array.Fill(best, float.PositiveInfinity);
        var cameFrom = new int[width * height];
        var settled = new bool[width * height];
        var open = new PixelQueue();
        var start = (from.Y * width) + from.X;
        var goal = (to.Y * width) + to.X;

        // No step costs less than the cheapest pixel: what is left to the goal at that price is added, so that pixels far from any way there
        // are never looked at (Hart, Nilsson, Raphael, IEEE Trans Syst Sci Cybern 1968;4:100–107). A little less, for rounding.
        var least = 0.999f * LeastOf(cost);
        best[start] = 0;
        cameFrom[start] = -1;
        open.Add(start, 0);
        var diagonal = MathF.Sqrt(2);
        while (open.TryTakeCheapest(out var here))
        {
            if (settled[here])
            {
                continue;
            }

            settled[here] = true;
            if (here == goal)
            {
                break;
            }

            var hereX = here % width;
            var hereY = here / width;
            for (var step = 0; step < 8; step++)
            {
                var x = hereX + StepX[step];
                var y = hereY + StepY[step];
                if ((uint)x >= (uint)width || (uint)y >= (uint)height)
                {
                    continue;
                }

                var next = (y * width) + x;
                if (settled[next])
                {
                    continue;
                }

                var through = best[here] + ((step < 4 ? 0.5f : 0.5f * diagonal) * (cost[here] + cost[next]));
                if (through < best[next])
                {
                    best[next] = through;
                    cameFrom[next] = here;
                    var (acrossLeft, downLeft) = (Math.Abs(x - to.X), Math.Abs(y - to.Y));
                    open.Add(next, through + (least * (Math.Max(acrossLeft, downLeft) + ((diagonal - 1) * Math.Min(acrossLeft, downLeft)))));
                }
            }
        }

        var pixels = new List<(int X, int Y)>();
        for (var at = goal; at >= 0; at = cameFrom[at])
        {
            pixels.Add((at % width, at / width));
        }

        pixels.Reverse();
        return (pixels, best[goal]);
    }

    private static float LeastOf(ReadOnlySpan<float> cost)
    {
        var least = cost[0];
        foreach (var one in cost)
        {
            least = one < least ? one : least;
        }

        return least;
    }
}
