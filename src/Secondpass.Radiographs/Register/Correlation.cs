using MathNet.Numerics;
using MathNet.Numerics.IntegralTransforms;

namespace Secondpass.Radiographs.Register;

/// <summary>Sums of products of two square grids at every shift, by Fourier transform; shifts wrap around.</summary>
internal static class Correlation
{
    /// <summary>Transform of a grid of <paramref name="side"/>² values; the side is a power of two.</summary>
    /// <param name="real">Values, row by row.</param>
    /// <param name="imaginary">A second grid that travels along as imaginary part; empty for none.</param>
    /// <param name="side">Columns and rows.</param>
    public static Complex32[] Forward(ReadOnlySpan<float> real, ReadOnlySpan<float> imaginary, int side)
    {
        var work = new Complex32[side * side];
        for (var i = 0; i < work.Length; i++)
        {
            work[i] = new Complex32(real[i], imaginary.IsEmpty ? 0 : imaginary[i]);
        }

        Each(work, side, forward: true);
        return work;
    }

    /// <summary>
    /// For each shift (dx, dy): Σ conjugate of template(x, y) · grid(x + dx, y + dy), from the transforms of both. A real
    /// template over a grid of two gives the sums with each in the real and the imaginary part.
    /// </summary>
    public static Complex32[] AtEveryShift(Complex32[] template, Complex32[] grid, int side)
    {
        var product = new Complex32[side * side];
        for (var i = 0; i < product.Length; i++)
        {
            product[i] = template[i].Conjugate() * grid[i];
        }

        Each(product, side, forward: false);
        return product;
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
