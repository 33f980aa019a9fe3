using MathNet.Numerics.LinearAlgebra;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Pixels;
using Secondpass.Radiographs.Trace;

namespace Secondpass.Radiographs.Compare;

/// <summary>Reads off a film how its greys are bent.</summary>
/// <remarks>
/// Two witnesses. A filling is of one substance, so its contrast for its width must not depend on how bright the dentine around it is:
/// on a film that shows what arrives, the same filling stands out half as much where the root is thick. And where the dentine lies
/// between the film's darkest and its brightest: on the straight scale that is nearly the same on all films, because teeth and beams
/// are alike.
/// </remarks>
internal static class CharacteristicCurveFinder
{
    /// <summary>Bends to choose from; their weighted mean is taken.</summary>
    private static readonly double[] Bends = [-1, -0.6, -0.3, 0, 0.2, 0.4, 0.55, 0.7, 0.8, 0.87, 0.92, 0.96];

    /// <summary>Taken where too little filling is seen: simulated films of all curves are read no worse with it than with none.</summary>
    private const double UsualBend = 0.6;

    private const int FewestLevels = 30;

    /// <summary>Where the dentine beside a filling lies on the straight scale: set on the first generator's seeds 3000 to 3039.</summary>
    private const double GroundShare = 0.42;

    /// <summary>Its deviation from film to film.</summary>
    private const double GroundShareDeviation = 0.12;

    /// <summary>
    /// Canals are oval and more so where they are wide, so that contrast grows otherwise than width: deviation of the exponent
    /// between the two from 1.
    /// </summary>
    private const double OvalDeviation = 0.3;

    /// <summary>How far two fillings of one tooth differ in strength, as the deviation of its logarithm.</summary>
    private const double BranchDeviation = 0.1;

    /// <summary>Levels that lie nearer to each other than this, in pixels, err together.</summary>
    private const double TogetherPixels = 60;

    /// <summary>What ovals and voids do to the logarithm of strength at least.</summary>
    private const double LeastSpread = 0.05;

    /// <summary>The orifice and the place where a branch leaves another are no plain rods, in pixels.</summary>
    private const double EdgePixels = 20;

    /// <summary>Finds the curve.</summary>
    /// <param name="film">The film before.</param>
    /// <param name="branches">Its branches.</param>
    /// <param name="rods">Their fillings.</param>
    public static CharacteristicCurve Find(GreyImage film, TracedBranch[] branches, RodProfile[] rods)
    {
        var range = GreyRange.Of(film);
        var levels = Levels(range, branches, rods);
        if (levels.Count < FewestLevels)
        {
            return new CharacteristicCurve(UsualBend, range);
        }

        var ground = Ranks.Median([.. levels.Select(level => level.Ground)]);
        var spacing = rods[0].SpacingPixels;
        var costs = Bends.Select(bend => Cost(levels, branches.Length, bend, spacing)
            + (0.5 * Math.Pow(((CharacteristicCurve.Straight(ground, bend) / CharacteristicCurve.Straight(1, bend)) - GroundShare) / GroundShareDeviation, 2))).ToArray();
        var least = costs.Min();
        var weights = costs.Select(cost => Math.Exp(least - cost)).ToArray();
        return new CharacteristicCurve(Bends.Zip(weights, (bend, weight) => bend * weight).Sum() / weights.Sum(), range);
    }

    /// <summary>One level of a filling, greys as shares of the film's range.</summary>
    private readonly record struct Level(int Branch, double Ground, double Contrast, double LogStrength, double LogRadius);

    private static List<Level> Levels(GreyRange range, TracedBranch[] branches, RodProfile[] rods)
    {
        var levels = new List<Level>();
        for (var branch = 0; branch < branches.Length; branch++)
        {
            var from = Math.Max(EdgePixels, branches[branch].OwnFromPixels + (EdgePixels / 2));
            var to = branches[branch].Filling.FilledToPixels?.Value ?? double.PositiveInfinity;
            for (var i = 0; i < rods[branch].Rods.Length; i++)
            {
                var (rod, at) = (rods[branch].Rods[i], rods[branch].LevelsPixels[i]);
                var contrast = rod.Contrast(rods[branch].BlurPixels) / range.Span;
                if (rods[branch].Filled[i] && at > from && at <= to && contrast > 0.02 && rod.ResidualDeviation < 0.25 * contrast * range.Span)
                {
                    levels.Add(new Level(branch, (rod.Background - range.Low) / range.Span, contrast, Math.Log(rod.GreyPerPixel), Math.Log(rod.RadiusPixels)));
                }
            }
        }

        return levels;
    }

    /// <summary>
    /// How badly one strength explains all levels at a bend, half squared deviations: robust least squares on the logarithm of
    /// strength, with width's exponent and each branch's own strength held to their priors.
    /// </summary>
    private static double Cost(List<Level> levels, int branches, double bend, double spacing)
    {
        var unknowns = 2 + branches;
        var middle = levels.Average(level => level.LogRadius);
        var strengths = levels.Select(level => level.LogStrength + Math.Log(Math.Max(1e-6, SlopeOver(level, bend)))).ToArray();
        var prior = Vector<double>.Build.Dense(unknowns, 1 / (BranchDeviation * BranchDeviation));
        prior[0] = 1e-9;
        prior[1] = 1 / (OvalDeviation * OvalDeviation);
        var rests = new double[levels.Count];
        var trust = Enumerable.Repeat(1.0, levels.Count).ToArray();
        var (spread, solved) = (0.1, prior);
        for (var round = 0; round < 6; round++)
        {
            var system = Matrix<double>.Build.DenseOfDiagonalVector(prior);
            var right = Vector<double>.Build.Dense(unknowns);
            for (var i = 0; i < levels.Count; i++)
            {
                var weight = trust[i] * spacing / TogetherPixels / (spread * spread);
                Span<(int Place, double Factor)> row = [(0, 1), (1, levels[i].LogRadius - middle), (2 + levels[i].Branch, 1)];
                foreach (var (place, factor) in row)
                {
                    right[place] += weight * factor * strengths[i];
                    foreach (var (other, otherFactor) in row)
                    {
                        system[place, other] += weight * factor * otherFactor;
                    }
                }
            }

            solved = system.Solve(right);
            for (var i = 0; i < rests.Length; i++)
            {
                rests[i] = strengths[i] - solved[0] - (solved[1] * (levels[i].LogRadius - middle)) - solved[2 + levels[i].Branch];
            }

            spread = Math.Max(LeastSpread, 1.48 * Ranks.Median([.. rests.Select(Math.Abs)]));
            trust = [.. rests.Select(rest => 1 / (1 + Math.Pow(rest / (2 * spread), 2)))];
        }

        var independent = levels.Count * spacing / TogetherPixels;
        var misfit = rests.Zip(trust, (rest, share) => share * rest * rest).Average() / (spread * spread);
        return (independent * (Math.Log(spread) + (0.5 * misfit))) + (0.5 * solved.PointwisePower(2).DotProduct(prior));
    }

    /// <summary>Mean slope of the straight scale between a level's ground and its brightest.</summary>
    private static double SlopeOver(Level level, double bend)
    {
        var top = Math.Min(level.Ground + level.Contrast, 1);
        return (CharacteristicCurve.Straight(top, bend) - CharacteristicCurve.Straight(level.Ground, bend)) / level.Contrast;
    }
}
