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
    private const int Coarsest = 9;
    private const int Coarse = 4;
    private const int Fine = 2;
    private const int Candidates = 6;

    /// <summary>Guesses that differ by less at the corners of the film lead to one match: it is less than a pixel of the coarsest images.</summary>
    private const double SamePlacePixels = 8;

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
        var levels = SideBySide.Each([Coarsest, Coarse, Fine], shrink => new Level(before, after, region, shrink));
        var first = SideBySide.Each(rough, guess => (Map: levels[0].Improve(guess.BeforeToAfter, guess.Inverted, 16, 1).BeforeToAfter, guess.Inverted));
        var refined = SideBySide.Each(
            Different(first, before),
            guess => (Match: levels[1].Improve(guess.Map, guess.Inverted, 10, 2), guess.Inverted));
        if (refined.Length == 0)
        {
            return new GlobalMatch(PlaneMap.Identity, false, 0, 0, 0);
        }

        var best = refined.MaxBy(pair => Worth(pair.Match));
        var middle = new PixelPoint((before.Width - 1) / 2.0, (before.Height - 1) / 2.0);
        var elsewhere = refined
            .Where(pair => pair.Match.BeforeToAfter.Of(middle).DistanceTo(best.Match.BeforeToAfter.Of(middle)) > 100)
            .Select(pair => Worth(pair.Match))
            .DefaultIfEmpty(0)
            .Max();
        var fine = levels[2].Improve(best.Match.BeforeToAfter, best.Inverted, 8, 2);
        return new GlobalMatch(fine.BeforeToAfter, best.Inverted, fine.Likeness, fine.Shared, elsewhere);
    }

    /// <summary>Guesses without those that came to lie on an earlier one.</summary>
    private static List<(PlaneMap Map, bool Inverted)> Different(IReadOnlyList<(PlaneMap Map, bool Inverted)> guesses, GreyImage before)
    {
        PixelPoint[] corners = [new(0, 0), new(before.Width - 1, 0), new(0, before.Height - 1), new(before.Width - 1, before.Height - 1)];
        var different = new List<(PlaneMap Map, bool Inverted)>();
        foreach (var guess in guesses)
        {
            if (!different.Any(other => other.Inverted == guess.Inverted
                && corners.All(corner => other.Map.Of(corner).DistanceTo(guess.Map.Of(corner)) < SamePlacePixels)))
            {
                different.Add(guess);
            }
        }

        return different;
    }

    private static double Worth(RefinedMatch match) => match.Likeness * Math.Sqrt(Math.Max(0, match.Shared));

    private static List<RoughMatch> FromLandmarks(IReadOnlyList<LandmarkPair> landmarks)
    {
        var map = PlaneMap.Through([.. landmarks.Select(pair => (pair.OnBefore, pair.OnAfter))]);
        return [new RoughMatch(map, false, 1), new RoughMatch(map, true, 1)];
    }

    /// <summary>Both films at one size.</summary>
    private sealed class Level(GreyImage before, GreyImage after, GreyImage region, int shrink)
    {
        private readonly GreyImage smallBefore = LocalContrast.Of(Smooth.Shrink(before, shrink), ContrastReach);
        private readonly GreyImage smallAfter = LocalContrast.Of(Smooth.Shrink(after, shrink), ContrastReach);
        private readonly GreyImage smallRegion = Smooth.Shrink(region, shrink);
        private readonly int shrink = shrink;

        /// <summary>Improves a match that is given, and returned, in full pixels.</summary>
        public RefinedMatch Improve(PlaneMap start, bool inverted, int rounds, int stride)
        {
            var turned = inverted ? Negated(smallAfter) : smallAfter;
            var match = Refinement.Improve(smallBefore, turned, smallRegion, start.Shrunk(shrink), rounds, stride);
            return match with { BeforeToAfter = Enlarged(match.BeforeToAfter, shrink) };
        }
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
