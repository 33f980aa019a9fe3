using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Pixels;

namespace Secondpass.Radiographs.Trace;

/// <summary>The places at which the middle of a filling is told to a fraction of a pixel.</summary>
/// <remarks>
/// A void takes a side of the filling away: what is left is narrower and its middle lies up to three pixels aside. Towards its end a filling's
/// blurred tip draws the middle to whatever lies beyond. Both are left out.
/// </remarks>
internal static class FillingMiddle
{
    /// <summary>Share of a canal's levels below which they are too few to say where it runs.</summary>
    private const double LeastShare = 0.33;

    /// <summary>Reach, in pixels, of the filling whose width tells how wide it is without a void.</summary>
    private const double WidthReachPixels = 70;

    /// <summary>Share of that width below which there is a void.</summary>
    private const double LeastWidthShare = 0.95;

    /// <summary>What of a filling's end is left out, in pixels beside half its width.</summary>
    private const double BeforeEndPixels = 6;

    /// <summary>What of the orifice is left out, in pixels: there the floor of the chamber begins.</summary>
    private const double AfterOrificePixels = 9;

    /// <summary>Finds them.</summary>
    /// <param name="path">The path.</param>
    /// <param name="filling">The filling along it.</param>
    /// <returns>Level and place of each, orifice to end; none where they are fewer than a third of the canal's levels.</returns>
    public static IReadOnlyList<(double Level, PixelPoint At)> Of(CanalPath path, FillingProfile filling)
    {
        if (filling.FilledToPixels is not { } end)
        {
            return [];
        }

        var filled = filling.Samples
            .Where(sample => sample.FillingWidthPixels is not null && !sample.IsOverlapped && sample.LevelPixels >= AfterOrificePixels && sample.LevelPixels <= path.LengthPixels)
            .ToArray();
        var widths = filled.Select(sample => sample.FillingWidthPixels!.Value.Value).ToArray();
        var places = new List<(double Level, PixelPoint At)>();
        for (var i = 0; i < filled.Length; i++)
        {
            var level = filled[i].LevelPixels;
            if (level > end.Value - (0.5 * widths[i]) - BeforeEndPixels || IsNarrowed(filled, widths, i))
            {
                continue;
            }

            var along = path.DirectionAt(level, 6);
            places.Add((level, path.At(level) + (new PixelPoint(along.Y, -along.X) * filled[i].CentreOffsetPixels)));
        }

        return places.Count < LeastShare * filling.Samples.Count ? [] : places;
    }

    /// <summary>Whether this level or one beside it is narrower than the filling around it, whose taper is that of its own two sides.</summary>
    private static bool IsNarrowed(FillingSample[] filled, double[] widths, int index)
    {
        for (var i = Math.Max(0, index - 1); i <= Math.Min(widths.Length - 1, index + 1); i++)
        {
            if (widths[i] < LeastWidthShare * Usual(filled, widths, i))
            {
                return true;
            }
        }

        return false;
    }

    /// <summary>The wide side of what the filling near a level would be wide at it, by its taper.</summary>
    private static double Usual(FillingSample[] filled, double[] widths, int index)
    {
        var (first, last) = (index, index);
        while (first > 0 && filled[index].LevelPixels - filled[first - 1].LevelPixels <= WidthReachPixels)
        {
            first--;
        }

        while (last < filled.Length - 1 && filled[last + 1].LevelPixels - filled[index].LevelPixels <= WidthReachPixels)
        {
            last++;
        }

        var half = (last - first + 1) / 2;
        if (half < 4)
        {
            return widths[index];
        }

        // Half a window apart, so that a void in one half doesn't decide.
        var slopes = new double[last - first + 1 - half];
        for (var i = 0; i < slopes.Length; i++)
        {
            slopes[i] = (widths[first + i + half] - widths[first + i]) / (filled[first + i + half].LevelPixels - filled[first + i].LevelPixels);
        }

        var taper = Ranks.Median(slopes);
        return Ranks.Quantile([.. Enumerable.Range(first, last - first + 1).Select(i => widths[i] + (taper * (filled[index].LevelPixels - filled[i].LevelPixels)))], 0.7);
    }
}
