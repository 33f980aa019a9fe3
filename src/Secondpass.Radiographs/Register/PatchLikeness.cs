using Secondpass.Domain.Films;
using Secondpass.Radiographs.Pixels;

namespace Secondpass.Radiographs.Register;

/// <summary>
/// How well a match holds patch by patch. Treatment changes some patches wholly (a crown comes off, a clamp goes on) and
/// leaves the others as they were, so the better part of the patches decides, not their mean.
/// </summary>
internal static class PatchLikeness
{
    /// <summary>Share of the patches' weight that must be at least as alike as the figure says.</summary>
    private const double DecidingShare = 0.4;

    private const int PatchPixels = 16;

    /// <summary>The correlation that the better 40 % of the patches, by weight, reach at least.</summary>
    /// <param name="before">Local contrast of the film before.</param>
    /// <param name="after">Local contrast of the film after.</param>
    /// <param name="region">Weight of each pixel of the film before.</param>
    /// <param name="map">The match, in pixels of these images.</param>
    public static double Of(GreyImage before, GreyImage after, GreyImage region, PlaneMap map)
    {
        var patches = new List<(double Likeness, double Weight)>();
        for (var top = 0; top + PatchPixels <= before.Height; top += PatchPixels)
        {
            for (var left = 0; left + PatchPixels <= before.Width; left += PatchPixels)
            {
                var (likeness, weight) = Patch(before, after, region, map, left, top);
                if (weight > 0)
                {
                    patches.Add((likeness, weight));
                }
            }
        }

        patches.Sort((one, other) => other.Likeness.CompareTo(one.Likeness));
        var whole = patches.Sum(patch => patch.Weight);
        double sum = 0;
        foreach (var (likeness, weight) in patches)
        {
            sum += weight;
            if (sum >= DecidingShare * whole)
            {
                return likeness;
            }
        }

        return 0;
    }

    private static (double Likeness, double Weight) Patch(GreyImage before, GreyImage after, GreyImage region, PlaneMap map, int left, int top)
    {
        double all = 0, w = 0, sb = 0, sa = 0, sbb = 0, saa = 0, sab = 0;
        for (var y = top; y < top + PatchPixels; y++)
        {
            for (var x = left; x < left + PatchPixels; x++)
            {
                var weight = region[x, y];
                all += weight;
                var place = map.Of(new PixelPoint(x, y));
                if (weight < 0.02f || place.X < 0 || place.Y < 0 || place.X > after.Width - 1 || place.Y > after.Height - 1)
                {
                    continue;
                }

                double here = before[x, y];
                double there = after.At(place.X, place.Y);
                w += weight;
                sb += weight * here;
                sa += weight * there;
                sbb += weight * here * here;
                saa += weight * there * there;
                sab += weight * here * there;
            }
        }

        if (w < 0.5 * all || all < 0.05 * PatchPixels * PatchPixels)
        {
            return (0, 0);
        }

        var varianceBefore = (sbb / w) - Math.Pow(sb / w, 2);
        var varianceAfter = (saa / w) - Math.Pow(sa / w, 2);

        // A patch without structure says nothing either way.
        return varianceBefore < 0.02
            ? (0, 0)
            : (((sab / w) - (sb / w * (sa / w))) / Math.Sqrt((varianceBefore * varianceAfter) + 1e-6), all);
    }
}
