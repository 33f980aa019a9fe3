using System.Runtime.CompilerServices;
using MathNet.Numerics;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Pixels;

namespace Secondpass.Radiographs.Register;

/// <summary>A first guess of how two films lie over each other.</summary>
/// <param name="BeforeToAfter">From pixels of the film before to pixels of the film after.</param>
/// <param name="Inverted">Whether the film after is inverted relative to the film before.</param>
/// <param name="Likeness">Correlation of the two, 0 to 1.</param>
internal readonly record struct RoughMatch(PlaneMap BeforeToAfter, bool Inverted, double Likeness);

/// <summary>Tries turns and sizes on strongly shrunken films, every shift at once.</summary>
internal static class CoarseSearch
{
    private const int Side = 128;
    private const int LongestEdge = 92;
    private const double LeastShared = 0.45;
    private static readonly double[] TurnsDegrees = [-15, -10, -5, 0, 5, 10, 15];
    private static readonly double[] Factors = [0.92, 1.0, 1.08];

    /// <summary>Finds the likeliest matches, best first.</summary>
    /// <param name="before">Grey values of the film before.</param>
    /// <param name="after">Grey values of the film after.</param>
    /// <param name="region">Weight of each pixel of the film before, 0 to 1: the tooth and its surroundings.</param>
    /// <param name="sizeRatio">Pixels of the film after per pixel of the film before, where the scales are known to differ; else 1.</param>
    /// <param name="most">How many to return.</param>
    public static List<RoughMatch> Find(GreyImage before, GreyImage after, GreyImage region, double sizeRatio, int most)
    {
        var longest = Math.Max(Math.Max(before.Width, before.Height), Math.Max(after.Width, after.Height) / sizeRatio);
        var shrink = Math.Max(1, (int)Math.Ceiling(longest / LongestEdge));
        var shrinkAfter = Math.Max(1, (int)Math.Round(shrink * sizeRatio, MidpointRounding.AwayFromZero));
        var smallBefore = LocalContrast.Of(Smooth.Shrink(before, shrink), 7);
        var smallAfter = LocalContrast.Of(Smooth.Shrink(after, shrinkAfter), 7);
        var weights = Smooth.Shrink(region, shrink);
        var afterGrid = new float[Side * Side];
        var afterSquared = new float[Side * Side];
        var afterThere = new float[Side * Side];
        for (var y = 0; y < Math.Min(Side, smallAfter.Height); y++)
        {
            for (var x = 0; x < Math.Min(Side, smallAfter.Width); x++)
            {
                var value = smallAfter[x, y];
                afterGrid[(y * Side) + x] = value;
                afterSquared[(y * Side) + x] = value * value;
                afterThere[(y * Side) + x] = 1;
            }
        }

        var transformed = Correlation.Forward(afterGrid, [], Side);
        var transformedSquaredAndThere = Correlation.Forward(afterSquared, afterThere, Side);
        var ratio = sizeRatio * shrink / shrinkAfter;
        var tries = TurnsDegrees.SelectMany(turn => Factors.Select(factor => (Turn: turn, Factor: factor))).ToArray();
        var found = new List<RoughMatch>[tries.Length];
        Parallel.For(0, tries.Length, i =>
        {
            var (turn, factor) = tries[i];
            found[i] = Try(smallBefore, weights, transformed, transformedSquaredAndThere, turn, factor * ratio);
        });
        var matches = found.SelectMany(list => list).OrderByDescending(match => match.Likeness).Take(most * 3).ToList();
        return [.. matches.Take(most).Select(match => match with { BeforeToAfter = Enlarged(match.BeforeToAfter, shrink, shrinkAfter) })];
    }

    private static PlaneMap Enlarged(PlaneMap small, int shrinkBefore, int shrinkAfter)
    {
        var down = new PlaneMap(shrinkBefore, 0, (shrinkBefore - 1) / 2.0, 0, shrinkBefore, (shrinkBefore - 1) / 2.0).Back();
        var up = new PlaneMap(shrinkAfter, 0, (shrinkAfter - 1) / 2.0, 0, shrinkAfter, (shrinkAfter - 1) / 2.0);
        return down.Then(small).Then(up);
    }

    [MethodImpl(Compilation.AtOnce)]
    private static List<RoughMatch> Try(
        GreyImage before,
        GreyImage weights,
        Complex32[] after,
        Complex32[] afterSquaredAndThere,
        double turnDegrees,
        double factor)
    {
        // The template is the film before, turned and enlarged about its middle, drawn in the middle of the grid.
        var middle = new PixelPoint((before.Width - 1) / 2.0, (before.Height - 1) / 2.0);
        var gridMiddle = new PixelPoint(Side / 2.0, Side / 2.0);
        var placed = PlaneMap.Turning(turnDegrees * Math.PI / 180, factor, middle, gridMiddle);
        var back = placed.Back();
        var weighted = new float[Side * Side];
        var weight = new float[Side * Side];
        double sumWeight = 0, sumValue = 0, sumSquare = 0;
        for (var y = 0; y < Side; y++)
        {
            for (var x = 0; x < Side; x++)
            {
                var place = back.Of(new PixelPoint(x, y));
                if (place.X < 0 || place.Y < 0 || place.X > before.Width - 1 || place.Y > before.Height - 1)
                {
                    continue;
                }

                var w = weights.At(place.X, place.Y);
                var value = before.At(place.X, place.Y);
                weight[(y * Side) + x] = w;
                weighted[(y * Side) + x] = w * value;
                sumWeight += w;
                sumValue += w * value;
                sumSquare += w * value * value;
            }
        }

        if (sumWeight < 1)
        {
            return [];
        }

        var mean = sumValue / sumWeight;
        var variance = (sumSquare / sumWeight) - (mean * mean);
        var negativeWeight = new float[Side * Side];
        for (var i = 0; i < weighted.Length; i++)
        {
            weighted[i] -= (float)(mean * weight[i]);
            negativeWeight[i] = -weight[i];
        }

        // Two real templates in one: the conjugate of the template turns its negative imaginary part back.
        var productsAndSums = Correlation.AtEveryShift(Correlation.Forward(weighted, negativeWeight, Side), after, Side);
        var squaresAndShared = Correlation.AtEveryShift(Correlation.Forward(weight, [], Side), afterSquaredAndThere, Side);
        var likeness = new float[Side * Side];
        for (var i = 0; i < likeness.Length; i++)
        {
            var there = squaresAndShared[i].Imaginary;
            if (there < LeastShared * sumWeight)
            {
                continue;
            }

            var afterMean = productsAndSums[i].Imaginary / there;
            var afterVariance = (squaresAndShared[i].Real / there) - (afterMean * afterMean);
            likeness[i] = (float)(productsAndSums[i].Real / there / Math.Sqrt(Math.Max(1e-9, afterVariance * variance)) * Math.Sqrt(there / sumWeight));
        }

        return Peaks(likeness, placed);
    }

    private static List<RoughMatch> Peaks(float[] likeness, PlaneMap placed)
    {
        var matches = new List<RoughMatch>();
        foreach (var sign in (ReadOnlySpan<int>)[1, -1])
        {
            for (var peak = 0; peak < 2; peak++)
            {
                var best = -1;
                for (var i = 0; i < likeness.Length; i++)
                {
                    if (sign * likeness[i] > 0 && (best < 0 || sign * likeness[i] > sign * likeness[best])
                        && !matches.Any(match => match.Inverted == sign < 0 && Near(match, placed, i)))
                    {
                        best = i;
                    }
                }

                if (best >= 0)
                {
                    var (dx, dy) = Shift(best);
                    matches.Add(new RoughMatch(placed.Then(new PlaneMap(1, 0, dx, 0, 1, dy)), sign < 0, Math.Abs(likeness[best])));
                }
            }
        }

        return matches;
    }

    private static bool Near(RoughMatch match, PlaneMap placed, int index)
    {
        var (dx, dy) = Shift(index);
        return double.Hypot(match.BeforeToAfter.C - placed.C - dx, match.BeforeToAfter.F - placed.F - dy) < 6;
    }

    private static (int Dx, int Dy) Shift(int index)
    {
        var dx = index % Side;
        var dy = index / Side;
        return (dx > Side / 2 ? dx - Side : dx, dy > Side / 2 ? dy - Side : dy);
    }
}
