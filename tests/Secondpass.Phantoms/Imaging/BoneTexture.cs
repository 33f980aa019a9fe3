namespace Secondpass.Phantoms.Imaging;

/// <summary>A repeating pattern of trabeculae: share of bone in a thin layer of spongy bone, 0 to 1.</summary>
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
        var pattern = new float[Size * Size];
        var wide = new Lattice(32, 11);
        var middle = new Lattice(48, 12);
        var fine = new Lattice(96, 13);
        var uneven = new Lattice(8, 14);
        for (var row = 0; row < Size; row++)
        {
            for (var column = 0; column < Size; column++)
            {
                var (x, y) = (column / (double)Size, row / (double)Size);

                // Trabeculae run where a smooth random field passes through zero.
                var plates = Ridge(wide.At(x, y), 3.2) + (0.8 * Ridge(middle.At(x, y), 3.6)) + (0.35 * Ridge(fine.At(x, y), 3.0));
                var share = (0.06 + (0.34 * plates)) * (1 + (0.35 * uneven.At(x, y)));
                pattern[(row * Size) + column] = (float)Math.Clamp(share, 0, 1);
            }
        }

        return pattern;
    }

    private static double Ridge(double value, double sharpness)
    {
        var near = Math.Max(0, 1 - (Math.Abs(value) * sharpness));
        return near * near * (3 - (2 * near));
    }

    /// <summary>Smooth periodic random field: gradients on a lattice (noise after Perlin, ACM SIGGRAPH 1985, from memory).</summary>
    private sealed class Lattice
    {
        private readonly int cells;
        private readonly (double X, double Y)[] gradients;

        public Lattice(int cells, int seed)
        {
            this.cells = cells;
            var random = new PhantomRandom(seed, 999);
            gradients = new (double, double)[cells * cells];
            for (var i = 0; i < gradients.Length; i++)
            {
                var angle = random.Between(0, 2 * Math.PI);
                gradients[i] = (Math.Cos(angle), Math.Sin(angle));
            }
        }

        /// <summary>The field at a place of the unit square, about −0.7 to 0.7.</summary>
        public double At(double x, double y)
        {
            var (cx, cy) = (x * cells, y * cells);
            var (i, j) = ((int)cx, (int)cy);
            var (fx, fy) = (cx - i, cy - j);
            var (sx, sy) = (Fade(fx), Fade(fy));
            var top = Dot(i, j, fx, fy) + (sx * (Dot(i + 1, j, fx - 1, fy) - Dot(i, j, fx, fy)));
            var bottom = Dot(i, j + 1, fx, fy - 1) + (sx * (Dot(i + 1, j + 1, fx - 1, fy - 1) - Dot(i, j + 1, fx, fy - 1)));
            return top + (sy * (bottom - top));
        }

        private static double Fade(double t) => t * t * t * ((t * ((t * 6) - 15)) + 10);

        private double Dot(int i, int j, double x, double y)
        {
            var (gx, gy) = gradients[(j % cells * cells) + (i % cells)];
            return (gx * x) + (gy * y);
        }
    }
}
