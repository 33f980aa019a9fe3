using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;
using Secondpass.Radiographs.Pixels;

namespace Secondpass.Radiographs.Trace;

/// <summary>Turns fitted rods into the filling's profile and finds where the filling ends.</summary>
internal static class FillingReader
{
    /// <summary>How far beyond the canal's end filling is looked for, in pixels.</summary>
    private const double BeyondEndPixels = 100;

    public static FillingProfile Read(GreyImage image, CanalPath path, RodProfile rods)
    {
        var samples = new FillingSample[rods.LevelsPixels.Length];
        for (var i = 0; i < samples.Length; i++)
        {
            var rod = rods.Rods[i];
            samples[i] = new FillingSample(
                rods.LevelsPixels[i],
                rods.Filled[i] ? Estimate.Within(2 * rod.RadiusPixels, WidthHalfInterval(rod)) : null,
                rod.CentrePixels,
                rod.Contrast(rods.BlurPixels));
        }

        var first = Array.FindIndex(rods.Filled, filled => filled);
        if (first < 0)
        {
            return new FillingProfile(samples, null, null);
        }

        return new FillingProfile(samples, rods.LevelsPixels[first], End(image, path, rods));
    }

    /// <summary>
    /// Half of the 95 % interval of a width: what the fit leaves open, plus what a section that is not round and an
    /// unknown grey curve can do to it.
    /// </summary>
    private static double WidthHalfInterval(RodFit rod)
    {
        var fromNoise = rod.ResidualDeviation / Math.Max(rod.GreyPerPixel, 1e-6) / Math.Sqrt(Math.Max(4, rod.RadiusPixels));
        return 1.96 * Math.Sqrt(Math.Pow(Math.Min(fromNoise, rod.RadiusPixels), 2) + Math.Pow(0.9 + (0.07 * rod.RadiusPixels), 2));
    }

    /// <summary>The level at which the line of the filling has lost half of what it stands out by shortly before.</summary>
    private static Estimate? End(GreyImage image, CanalPath path, RodProfile rods)
    {
        var last = Array.FindLastIndex(rods.Filled, filled => filled);
        var spacing = rods.SpacingPixels;
        var before = Math.Max(0, last - (int)Math.Ceiling(30 / spacing));
        var radius = Ranks.Median([.. rods.Rods[before..(last + 1)].Select(rod => rod.RadiusPixels)]);
        var from = rods.LevelsPixels[before];
        var to = Math.Min(path.LengthPixels + BeyondEndPixels, rods.LevelsPixels[last] + 50);
        var count = (int)(to - from) + 1;
        if (last == rods.Filled.Length - 1)
        {
            count = (int)(path.LengthPixels + BeyondEndPixels - from) + 1;
        }

        var contrast = new double[count];
        for (var i = 0; i < count; i++)
        {
            contrast[i] = LineContrast(image, path, from + i, radius, rods.BlurPixels);
        }

        contrast = Penalised.Smooth(contrast, Enumerable.Repeat(1.0, count).ToArray(), 2);
        var plateauLength = Math.Clamp((int)(rods.LevelsPixels[last] - from) - 4, 4, count - 1);
        var plateau = Ranks.Median(contrast.AsSpan(0, plateauLength).ToArray());
        if (plateau <= 0)
        {
            return Estimate.Within(rods.LevelsPixels[last], 2 * spacing);
        }

        var start = Math.Max(1, plateauLength - (int)(15 / 1.0));
        for (var i = start; i < count; i++)
        {
            // The filling thins towards its end, so half of the plateau is asked of the place just before it.
            var local = Math.Min(plateau, contrast.AsSpan(Math.Max(0, i - 14), Math.Min(i, 14)).ToArray().Max());
            if (contrast[i] < 0.5 * local)
            {
                var previous = contrast[i - 1];
                var share = previous > contrast[i] ? Math.Clamp((previous - (0.5 * local)) / (previous - contrast[i]), 0, 1) : 0;
                return Estimate.Within(from + i - 1 + share, 1.96 * Math.Sqrt(7 + Math.Pow(0.5 * rods.BlurPixels, 2)));
            }
        }

        return Estimate.Within(from + count - 1, 6);
    }

    private static double LineContrast(GreyImage image, CanalPath path, double level, double radius, double blur)
    {
        var along = path.DirectionAt(Math.Min(level, path.LengthPixels), 8);
        var at = level <= path.LengthPixels
            ? path.At(level)
            : path.At(path.LengthPixels) + (along * (level - path.LengthPixels));
        var left = new PixelPoint(along.Y, -along.X);
        double middle = 0, sides = 0;
        for (var k = -2; k <= 2; k++)
        {
            var inside = 0.4 * radius * k / 2;
            middle += image.At(at.X + (left.X * inside), at.Y + (left.Y * inside));
        }

        for (var k = 0; k < 4; k++)
        {
            var outside = radius + (1.5 * blur) + 1.5 + (k * 1.5);
            sides += image.At(at.X + (left.X * outside), at.Y + (left.Y * outside));
            sides += image.At(at.X - (left.X * outside), at.Y - (left.Y * outside));
        }

        return (middle / 5) - (sides / 8);
    }
}
