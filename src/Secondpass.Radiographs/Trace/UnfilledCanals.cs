using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Pixels;

namespace Secondpass.Radiographs.Trace;

/// <summary>
/// Tells canals that hold no filling from filled ones. Between the marks of such a canal the strongest light line is the dentine beside it, which
/// would be taken for a filling; the canal itself is a dark line, and its way is taken from there.
/// </summary>
/// <remarks>
/// Two things must come together, of which each alone is seen on fillings too: the dark line is about as strong as the light one, and what was
/// taken for a filling is far fainter for its width than fillings are. Limits chosen on the films of seeds 100 to 170 of the second generator:
/// of 129 filled canals none is under 0.46 of the densest of its film, and dentine beside a canal is 0.1 to 0.15.
/// </remarks>
internal static class UnfilledCanals
{
    /// <summary>How strong the dark line is at least, as a share of the light one: one in ten filled canals reaches this, empty ones have 0.75 to 1.7.</summary>
    private const double LeastDarkShare = 0.7;

    /// <summary>Density of what was read, as a share of the film's densest filling, below which it is none; a steel post is about three times as dense as a filling.</summary>
    private const double LeastDensityShare = 0.3;

    /// <summary>The same where the film has no other canal, per millimetre and as a share of the spread of greys around the canal.</summary>
    private const double LeastDensityOfSpread = 0.2;

    /// <summary>How far around the canal that spread is looked at, in pixels.</summary>
    private const int AroundPixels = 90;

    /// <summary>The canals, those without a filling traced along their dark line.</summary>
    /// <param name="image">Grey values; filling is brighter than dentine.</param>
    /// <param name="opposite">Makes the same inverted; asked for once, and only where a canal holds no filling.</param>
    /// <param name="scale">Scale of the film; null for none.</param>
    /// <param name="canals">The marks of each canal.</param>
    /// <param name="traced">Each as it was traced along what is light.</param>
    /// <param name="darkShares">How strong the dark line between its marks is, as a share of the light one.</param>
    /// <returns>The canals in the same order, or the refusal of one that can't be traced anew.</returns>
    public static Answer<CanalTracer.TracedWithRods[]> Of(
        GreyImage image,
        Func<GreyImage> opposite,
        Calibration? scale,
        IReadOnlyList<CanalClicks> canals,
        IReadOnlyList<CanalTracer.TracedWithRods> traced,
        IReadOnlyList<double> darkShares)
    {
        double?[] densities = [.. traced.Select(canal => canal.Branch.SelfAndBelow().Max(branch => EmptyWidth.Density(branch.Filling)))];
        CanalTracer.TracedWithRods[] told = [.. traced];
        GreyImage? inverted = null;
        for (var i = 0; i < told.Length; i++)
        {
            if (densities[i] is not { } density || darkShares[i] < LeastDarkShare || canals[i].Branches.Count > 0 || told[i].Branch.IsThroughMarks)
            {
                continue;
            }

            var least = densities.Where((_, other) => darkShares[other] < LeastDarkShare).Max() is { } filled
                ? LeastDensityShare * filled
                : scale is not null ? LeastDensityOfSpread * scale.MillimetresPerPixel * Spread(image, told[i].Branch.Path) : 0;
            if (density < least)
            {
                inverted ??= opposite();
                if (!CanalTracer.TraceUpright(inverted, scale, canals[i], PathSearch.Around(inverted, canals[i].Pins)).TryGet(out var dark, out var refusal)
                    || !CanalTracer.ReadEmpty(image, scale, canals[i], dark.Branch.Path).TryGet(out var empty, out refusal))
                {
                    return refusal;
                }

                told[i] = empty;
            }
        }

        return told;
    }

    private static double Spread(GreyImage image, CanalPath path)
    {
        var (left, right) = Ends(path.Points.Select(point => point.X), image.Width);
        var (top, bottom) = Ends(path.Points.Select(point => point.Y), image.Height);
        var ranks = Ranks.OfImage(image.Cut(left, top, right - left + 1, bottom - top + 1), [0.02, 0.98], 3);
        return ranks[1] - ranks[0];

        static (int First, int Last) Ends(IEnumerable<double> along, int size) =>
            (Math.Max(0, (int)along.Min() - AroundPixels), Math.Min(size - 1, (int)along.Max() + AroundPixels));
    }
}
