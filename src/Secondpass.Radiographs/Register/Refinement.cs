using System.Runtime.CompilerServices;
using MathNet.Numerics.LinearAlgebra;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Pixels;

namespace Secondpass.Radiographs.Register;

/// <summary>A refined match of two films.</summary>
/// <param name="BeforeToAfter">From pixels of the film before to pixels of the film after.</param>
/// <param name="Likeness">How well patches of the region find themselves again, −1 to 1: see <see cref="PatchLikeness"/>.</param>
/// <param name="Shared">Share of the region that the film after shows, 0 to 1.</param>
internal readonly record struct RefinedMatch(PlaneMap BeforeToAfter, double Likeness, double Shared);

/// <summary>Improves a match step by step until two images of local contrast differ least, outliers counting less and less.</summary>
/// <remarks>Gauss–Newton on six numbers (Lucas, Kanade, IJCAI 1981:674–679) with Geman–McClure weights.</remarks>
internal static class Refinement
{
    /// <summary>Refines.</summary>
    /// <param name="before">Local contrast of the film before.</param>
    /// <param name="after">Local contrast of the film after; already turned over if it is inverted.</param>
    /// <param name="region">Weight of each pixel of the film before, 0 to 1.</param>
    /// <param name="start">First guess, in pixels of these images.</param>
    /// <param name="rounds">Most steps to take.</param>
    /// <param name="stride">Every how many-th pixel counts, in both directions.</param>
    public static RefinedMatch Improve(GreyImage before, GreyImage after, GreyImage region, PlaneMap start, int rounds, int stride)
    {
        var pixels = Sample(before, region, stride);
        var middle = new PixelPoint((before.Width - 1) / 2.0, (before.Height - 1) / 2.0);
        var unit = Math.Max(before.Width, before.Height) / 2.0;
        var map = start;
        for (var round = 0; round < rounds; round++)
        {
            var scale = Spread(pixels, after, map);
            var (information, pull) = Normal(pixels, after, map, middle, unit, scale);
            for (var k = 0; k < 6; k++)
            {
                information[k, k] *= 1.0001;
                information[k, k] += 1e-9;
            }

            var step = information.Solve(pull);
            if (!step.ForAll(double.IsFinite))
            {
                break;
            }

            // The step is given about the middle in half-widths, so that all six numbers weigh alike.
            map = new PlaneMap(
                map.A + (step[0] / unit),
                map.B + (step[1] / unit),
                map.C + step[2] - (((step[0] * middle.X) + (step[1] * middle.Y)) / unit),
                map.D + (step[3] / unit),
                map.E + (step[4] / unit),
                map.F + step[5] - (((step[3] * middle.X) + (step[4] * middle.Y)) / unit));
            if (step.InfinityNorm() < 0.003)
            {
                break;
            }
        }

        return new RefinedMatch(map, PatchLikeness.Of(before, after, region, map), Shared(pixels, after, map));
    }

    private static double Shared(List<(float X, float Y, float Value, float Weight)> pixels, GreyImage after, PlaneMap map)
    {
        double all = 0, there = 0;
        foreach (var (x, y, _, weight) in pixels)
        {
            all += weight;
            there += Inside(after, map.Of(new PixelPoint(x, y))) ? weight : 0;
        }

        return all > 0 ? there / all : 0;
    }

    private static List<(float X, float Y, float Value, float Weight)> Sample(GreyImage before, GreyImage region, int stride)
    {
        var pixels = new List<(float X, float Y, float Value, float Weight)>(before.Values.Length / (stride * stride));
        for (var y = 0; y < before.Height; y += stride)
        {
            for (var x = 0; x < before.Width; x += stride)
            {
                var weight = region[x, y];
                if (weight > 0.02f)
                {
                    pixels.Add((x, y, before[x, y], weight));
                }
            }
        }

        return pixels;
    }

    private static double Spread(List<(float X, float Y, float Value, float Weight)> pixels, GreyImage after, PlaneMap map)
    {
        var step = Math.Max(1, pixels.Count / 2000);
        var differences = new List<double>(2100);
        for (var i = 0; i < pixels.Count; i += step)
        {
            var place = map.Of(new PixelPoint(pixels[i].X, pixels[i].Y));
            if (Inside(after, place))
            {
                differences.Add(after.At(place.X, place.Y) - pixels[i].Value);
            }
        }

        return differences.Count < 10 ? 1 : Math.Max(0.1, Ranks.RobustDeviation([.. differences]));
    }

    private static bool Inside(GreyImage image, PixelPoint place) =>
        place.X >= 1 && place.Y >= 1 && place.X < image.Width - 2 && place.Y < image.Height - 2;

    private static (Matrix<double> Information, Vector<double> Pull) Normal(
        List<(float X, float Y, float Value, float Weight)> pixels,
        GreyImage after,
        PlaneMap map,
        PixelPoint middle,
        double unit,
        double scale)
    {
        var threads = Math.Max(1, Environment.ProcessorCount);
        var parts = new (double[] Information, double[] Pull)[threads];
        Parallel.For(0, threads, thread => parts[thread] = NormalOfPart(
            pixels,
            (int)((long)pixels.Count * thread / threads),
            (int)((long)pixels.Count * (thread + 1) / threads),
            after,
            map,
            middle,
            unit,
            scale));
        var sum = Matrix<double>.Build.Dense(6, 6);
        var sumPull = Vector<double>.Build.Dense(6);
        foreach (var (information, pull) in parts)
        {
            for (var k = 0; k < 6; k++)
            {
                sumPull[k] += pull[k];
                for (var m = k; m < 6; m++)
                {
                    sum[k, m] += information[(k * 6) + m];
                }
            }
        }

        for (var k = 0; k < 6; k++)
        {
            for (var m = 0; m < k; m++)
            {
                sum[k, m] = sum[m, k];
            }
        }

        return (sum, sumPull);
    }

    [MethodImpl(Compilation.AtOnce)]
    private static (double[] Information, double[] Pull) NormalOfPart(
        List<(float X, float Y, float Value, float Weight)> pixels,
        int from,
        int to,
        GreyImage after,
        PlaneMap map,
        PixelPoint middle,
        double unit,
        double scale)
    {
        var information = new double[36];
        var pull = new double[6];
        Span<double> slope = stackalloc double[6];
        for (var i = from; i < to; i++)
        {
            var (x, y, value, weight) = pixels[i];
            var place = map.Of(new PixelPoint(x, y));
            if (!Inside(after, place))
            {
                continue;
            }

            var (here, gx, gy) = after.WithSlopeAt(place.X, place.Y);
            var rest = value - here;
            var tamed = rest / (2.0 * scale);
            var trust = weight / ((1 + (tamed * tamed)) * (1 + (tamed * tamed)));
            var u = (x - middle.X) / unit;
            var v = (y - middle.Y) / unit;
            slope[0] = gx * u;
            slope[1] = gx * v;
            slope[2] = gx;
            slope[3] = gy * u;
            slope[4] = gy * v;
            slope[5] = gy;
            for (var k = 0; k < 6; k++)
            {
                var weighted = trust * slope[k];
                pull[k] += weighted * rest;
                for (var m = k; m < 6; m++)
                {
                    information[(k * 6) + m] += weighted * slope[m];
                }
            }
        }

        return (information, pull);
    }
}
