namespace Secondpass.Phantoms.Imaging;

/// <summary>A repeating pattern of trabeculae: share of bone in a thin layer of spongy bone, 0 to 1.</summary>
/// <remarks>Trabeculae run where smooth random fields pass through zero; own construction, by eye.</remarks>
internal static class BoneTexture
{
    private const int Size = 512;
    private const float PixelsPerMillimetre = 14f;
    private static readonly float[] Pattern = Draw();

    /// <summary>Mean of the pattern.</summary>
    public static float Mean { get; } = Pattern.Average();

    /// <summary>Share of bone at a place, by bilinear interpolation.</summary>
    /// <param name="x">x in mm.</param>
    /// <param name="y">y in mm.</param>
    public static float At(float x, float y)
    {
        var column = x * PixelsPerMillimetre;
        var row = y * PixelsPerMillimetre;
        var left = MathF.Floor(column);
        var top = MathF.Floor(row);
        var right = column - left;
        var down = row - top;
        var i = (int)left & (Size - 1);
        var j = ((int)top & (Size - 1)) * Size;
        var i1 = (i + 1) & (Size - 1);
        var j1 = (j + Size) & ((Size * Size) - 1);
        var upper = Pattern[j + i] + (right * (Pattern[j + i1] - Pattern[j + i]));
        var lower = Pattern[j1 + i] + (right * (Pattern[j1 + i1] - Pattern[j1 + i]));
        return upper + (down * (lower - upper));
    }

    private static float[] Draw()
    {
        // The tile is 36.6 mm wide: 20 waves are meshes of about 0.9 mm.
        var wide = Field(20, 6, 11);
        var middle = Field(30, 8, 12);
        var fine = Field(52, 12, 13);
        var uneven = Field(6, 4, 14);
        var pattern = new float[Size * Size];
        for (var i = 0; i < pattern.Length; i++)
        {
            var plates = Ridge(wide[i], 1.15f) + (0.6f * Ridge(middle[i], 1.3f)) + (0.15f * Ridge(fine[i], 1.3f));
            pattern[i] = Math.Clamp((0.02f + (0.27f * plates)) * (1 + (0.25f * uneven[i])), 0, 1);
        }

        return pattern;
    }

    private static float Ridge(float value, float sharpness)
    {
        var near = MathF.Max(0, 1 - (MathF.Abs(value) * sharpness));
        return near * near * (3 - (2 * near));
    }

    /// <summary>A periodic random field of mean 0 and standard deviation 1: plane waves in all directions with nearly one wavelength.</summary>
    private static float[] Field(int waves, int spread, int seed)
    {
        const int terms = 48;
        var random = new PhantomRandom(seed, 999);
        var field = new float[Size * Size];
        var amplitude = (float)Math.Sqrt(2.0 / terms);
        var (cosines, sines) = (new float[Size], new float[Size]);
        for (var term = 0; term < terms; term++)
        {
            var direction = random.Between(0, Math.PI);
            var number = random.Between(waves - (spread / 2.0), waves + (spread / 2.0));
            var across = (int)Math.Round(number * Math.Cos(direction), MidpointRounding.AwayFromZero);
            var down = (int)Math.Round(number * Math.Sin(direction), MidpointRounding.AwayFromZero);
            var phase = random.Between(0, 2 * Math.PI);
            for (var i = 0; i < Size; i++)
            {
                cosines[i] = (float)Math.Cos(2 * Math.PI * across * i / Size) * amplitude;
                sines[i] = (float)Math.Sin(2 * Math.PI * across * i / Size) * amplitude;
            }

            for (var row = 0; row < Size; row++)
            {
                var turned = (2 * Math.PI * down * row / Size) + phase;
                var (c, s) = ((float)Math.Cos(turned), (float)Math.Sin(turned));
                var line = field.AsSpan(row * Size, Size);
                for (var i = 0; i < Size; i++)
                {
                    line[i] += (cosines[i] * c) - (sines[i] * s);
                }
            }
        }

        return field;
    }
}
