using MathNet.Numerics;
using MathNet.Numerics.IntegralTransforms;

namespace Secondpass.Radiographs.Register;

/// <summary>Sums of products of two square grids at every shift, by Fourier transform; shifts wrap around.</summary>
internal static class Correlation
{
    /// <summary>Transform of a grid of <paramref name="side"/>² values; the side is a power of two.</summary>
    public static Complex32[] Forward(ReadOnlySpan<float> grid, int side)
    {
        var work = new Complex32[side * side];
        for (var i = 0; i < work.Length; i++)
        {
            work[i] = new Complex32(grid[i], 0);
        }

        Each(work, side, forward: true);
        return work;
    }

    /// <summary>For each shift (dx, dy): Σ template(x, y) · grid(x + dx, y + dy).</summary>
    public static float[] AtEveryShift(Complex32[] template, Complex32[] grid, int side)
    {
        var product = new Complex32[side * side];
        for (var i = 0; i < product.Length; i++)
        {
            product[i] = template[i].Conjugate() * grid[i];
        }

        Each(product, side, forward: false);
        var result = new float[side * side];
        for (var i = 0; i < result.Length; i++)
        {
            result[i] = product[i].Real;
        }

        return result;
    }

    private static void Each(Complex32[] grid, int side, bool forward)
    {
        var line = new Complex32[side];
        for (var y = 0; y < side; y++)
        {
            Array.Copy(grid, y * side, line, 0, side);
            Transform(line, forward);
            Array.Copy(line, 0, grid, y * side, side);
        }

        for (var x = 0; x < side; x++)
        {
            for (var y = 0; y < side; y++)
            {
                line[y] = grid[(y * side) + x];
            }

            Transform(line, forward);
            for (var y = 0; y < side; y++)
            {
                grid[(y * side) + x] = line[y];
            }
        }
    }

    private static void Transform(Complex32[] line, bool forward)
    {
        if (forward)
        {
            Fourier.Forward(line, FourierOptions.AsymmetricScaling);
        }
        else
        {
            Fourier.Inverse(line, FourierOptions.AsymmetricScaling);
        }
    }
}
