using Secondpass.Domain.Films;
using Secondpass.Radiographs.Pixels;

namespace Secondpass.Radiographs.Register;

/// <summary>How the whole films lie over each other, before any local correction.</summary>
/// <param name="BeforeToAfter">From pixels of the film before to pixels of the film after.</param>
/// <param name="Inverted">Whether the film after is inverted relative to the film before.</param>
/// <param name="Likeness">Correlation of local contrast around the canals, −1 to 1.</param>
/// <param name="Shared">Share of the canals' surroundings that the film after shows, 0 to 1.</param>
/// <param name="RunnerUpLikeness">The same for the best match that lies elsewhere.</param>
internal sealed record GlobalMatch(PlaneMap BeforeToAfter, bool Inverted, double Likeness, double Shared, double RunnerUpLikeness);

/// <summary>Lays the film after over the film before as a whole.</summary>
internal static class FilmRegistrar
{
    private const int Coarse = 4;
    private const int Fine = 2;
    private const int Candidates = 6;

    /// <summary>Half the window of local contrast, in pixels of the shrunken images: about 1.3 mm on a film of 0.03 mm.</summary>
    private const int ContrastReach = 11;

    /// <summary>Finds the match.</summary>
    /// <param name="before">Grey values of the film before.</param>
    /// <param name="after">Grey values of the film after.</param>
    /// <param name="region">Weight of each pixel of the film before: high near the canals, 0 on their fillings, which are expected to change.</param>
    /// <param name="sizeRatio">Pixels of the film after per pixel of the film before where scales are known; else 1.</param>
    /// <param name="landmarks">Marks on both films; with two or more the search starts from them.</param>
    public static GlobalMatch Find(
        GreyImage before,
        GreyImage after,
        GreyImage region,
        double sizeRatio,
        IReadOnlyList<LandmarkPair> landmarks)
    {
        var rough = landmarks.Count >= 2
            ? FromLandmarks(landmarks)
            : CoarseSearch.Find(before, after, region, sizeRatio, Candidates);
        var coarseBefore = LocalContrast.Of(Smooth.Shrink(before, Coarse), ContrastReach);
        var coarseAfter = LocalContrast.Of(Smooth.Shrink(after, Coarse), ContrastReach);
        var coarseRegion = Smooth.Shrink(region, Coarse);
        Lazy<GreyImage> coarseTurnedOver = new(() => Negated(coarseAfter));
        var refined = new List<(RefinedMatch Match, bool Inverted)>();
        foreach (var guess in rough)
        {
            var target = guess.Inverted ? coarseTurnedOver.Value : coarseAfter;
            var match = Refinement.Improve(coarseBefore, target, coarseRegion, guess.BeforeToAfter.Shrunk(Coarse), 14, 2);
            refined.Add((match, guess.Inverted));
        }

        if (refined.Count == 0)
        {
            return new GlobalMatch(PlaneMap.Identity, false, 0, 0, 0);
        }

        var best = refined.MaxBy(pair => Worth(pair.Match));
        var middle = new PixelPoint((coarseBefore.Width - 1) / 2.0, (coarseBefore.Height - 1) / 2.0);
        var elsewhere = refined
            .Where(pair => pair.Match.BeforeToAfter.Of(middle).DistanceTo(best.Match.BeforeToAfter.Of(middle)) > 25)
            .Select(pair => Worth(pair.Match))
            .DefaultIfEmpty(0)
            .Max();
        var fineBefore = LocalContrast.Of(Smooth.Shrink(before, Fine), ContrastReach);
        var fineAfter = LocalContrast.Of(Smooth.Shrink(after, Fine), ContrastReach);
        var start = best.Match.BeforeToAfter;
        var fine = Refinement.Improve(
            fineBefore,
            best.Inverted ? Negated(fineAfter) : fineAfter,
            Smooth.Shrink(region, Fine),
            Enlarged(start, Coarse).Shrunk(Fine),
            10,
            2);
        return new GlobalMatch(Enlarged(fine.BeforeToAfter, Fine), best.Inverted, fine.Likeness, fine.Shared, elsewhere);
    }

    private static double Worth(RefinedMatch match) => match.Likeness * Math.Sqrt(Math.Max(0, match.Shared));

    private static List<RoughMatch> FromLandmarks(IReadOnlyList<LandmarkPair> landmarks)
    {
        var map = PlaneMap.Through([.. landmarks.Select(pair => (pair.OnBefore, pair.OnAfter))]);
        return [new RoughMatch(map, false, 1), new RoughMatch(map, true, 1)];
    }

    private static PlaneMap Enlarged(PlaneMap small, int factor)
    {
        var half = (factor - 1) / 2.0;
        var up = new PlaneMap(factor, 0, half, 0, factor, half);
        return up.Back().Then(small).Then(up);
    }

    private static GreyImage Negated(GreyImage image)
    {
        var result = new GreyImage(image.Width, image.Height);
        for (var i = 0; i < result.Values.Length; i++)
        {
            result.Values[i] = -image.Values[i];
        }

        return result;
    }
}
