using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;

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

    /// <summary>Which of the widths around a level tells how wide the filling is without a void, as a rank.</summary>
    private const double WholeRank = 0.7;

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
        var levels = filled.Select(sample => sample.LevelPixels).ToArray();
        var places = new List<(double Level, PixelPoint At)>();
        for (var i = 0; i < filled.Length; i++)
        {
            var level = filled[i].LevelPixels;
            if (level > end.Value - (0.5 * widths[i]) - BeforeEndPixels || IsNarrowed(levels, widths, i))
            {
                continue;
            }

            var along = path.DirectionAt(level, 6);
            places.Add((level, path.At(level) + (new PixelPoint(along.Y, -along.X) * filled[i].CentreOffsetPixels)));
        }

        return places.Count < LeastShare * filling.Samples.Count ? [] : places;
    }

    /// <summary>Whether this level or one beside it is narrower than the filling around it, whose taper is that of its own two sides.</summary>
    private static bool IsNarrowed(double[] levels, double[] widths, int index)
    {
        for (var i = Math.Max(0, index - 1); i <= Math.Min(widths.Length - 1, index + 1); i++)
        {
            if (LocalTaper.Usual(levels, widths, levels[i], WholeRank) is { } usual && widths[i] < LeastWidthShare * usual)
            {
                return true;
            }
        }

        return false;
    }
}
