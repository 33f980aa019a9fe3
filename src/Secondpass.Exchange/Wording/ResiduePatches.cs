using Secondpass.Domain.Films;

namespace Secondpass.Exchange.Wording;

/// <summary>A run of levels of a branch along which residue is seen without a gap.</summary>
/// <param name="FromPixels">Level at which it begins.</param>
/// <param name="ToPixels">Level at which it ends.</param>
/// <param name="AreaSquarePixels">Its projected area, in square pixels of the film before.</param>
public readonly record struct ResiduePatch(double FromPixels, double ToPixels, double AreaSquarePixels);

/// <summary>Finds patches of residue along a branch.</summary>
public static class ResiduePatches
{
    /// <summary>All patches, from orifice to end.</summary>
    public static List<ResiduePatch> Of(IReadOnlyList<StripSample> strip)
    {
        var patches = new List<ResiduePatch>();
        ResiduePatch? open = null;
        for (var i = 0; i < strip.Count; i++)
        {
            var (from, to) = Reach(strip, i);
            var area = ResidueWidth(strip[i]) * (to - from);
            if (ResidueWidth(strip[i]) > 0)
            {
                open = open is { } patch
                    ? new ResiduePatch(patch.FromPixels, to, patch.AreaSquarePixels + area)
                    : new ResiduePatch(from, to, area);
            }
            else if (open is { } ended)
            {
                patches.Add(ended);
                open = null;
            }
        }

        if (open is { } last)
        {
            patches.Add(last);
        }

        return patches;
    }

    /// <summary>Projected area of residue between two levels, in square pixels.</summary>
    public static double AreaSquarePixels(IReadOnlyList<StripSample> strip, double fromPixels, double toPixels)
    {
        var area = 0.0;
        for (var i = 0; i < strip.Count; i++)
        {
            var (from, to) = Reach(strip, i);
            area += ResidueWidth(strip[i]) * Math.Max(0, Math.Min(to, toPixels) - Math.Max(from, fromPixels));
        }

        return area;
    }

    /// <summary>The length of path that a sample speaks for: half way to its neighbours, to its own level at either end of the strip.</summary>
    public static (double From, double To) Reach(IReadOnlyList<StripSample> strip, int index)
    {
        var level = strip[index].LevelPixels;
        return (
            index > 0 ? (strip[index - 1].LevelPixels + level) / 2 : level,
            index + 1 < strip.Count ? (level + strip[index + 1].LevelPixels) / 2 : level);
    }

    private static double ResidueWidth(StripSample sample) => Math.Abs(sample.ResidueToPixels - sample.ResidueFromPixels);
}
