using System.Numerics;
using System.Runtime.InteropServices;

namespace Secondpass.Radiographs.Pixels;

/// <summary>Blurring and shrinking of images. Borders repeat their outermost pixel.</summary>
internal static class Smooth
{
    /// <summary>Gaussian blur.</summary>
    /// <param name="image">The image; not changed.</param>
    /// <param name="sigmaPixels">Standard deviation in pixels; 0 copies.</param>
    public static GreyImage Gaussian(GreyImage image, double sigmaPixels)
    {
        var kernel = GaussianKernel(sigmaPixels);
        var across = Rows(image, kernel);
        return Columns(across, kernel);
    }

    /// <summary>Mean over a square window of (2 × <paramref name="reach"/> + 1)² pixels, fewer at the border.</summary>
    public static GreyImage Mean(GreyImage image, int reach)
    {
        int width = image.Width, height = image.Height;
        var across = new GreyImage(width, height);
        Parallel.For(0, height, y =>
        {
            var source = image.Values.AsSpan(y * width, width);
            var target = across.Values.AsSpan(y * width, width);
            double sum = 0;
            for (var x = 0; x < Math.Min(reach, width); x++)
            {
                sum += source[x];
            }

            for (var x = 0; x < width; x++)
            {
                if (x + reach < width)
                {
                    sum += source[x + reach];
                }

                if (x - reach - 1 >= 0)
                {
                    sum -= source[x - reach - 1];
                }

                target[x] = (float)(sum / (Math.Min(x + reach, width - 1) - Math.Max(x - reach, 0) + 1));
            }
        });

        var result = new GreyImage(width, height);
        const int Block = 64;
        Parallel.For(0, (width + Block - 1) / Block, block =>
        {
            var first = block * Block;
            var last = Math.Min(first + Block, width);
            var sums = new double[last - first];
            for (var y = 0; y < Math.Min(reach, height); y++)
            {
                AddRow(across, y, first, sums, 1);
            }

            for (var y = 0; y < height; y++)
            {
                if (y + reach < height)
                {
                    AddRow(across, y + reach, first, sums, 1);
                }

                if (y - reach - 1 >= 0)
                {
                    AddRow(across, y - reach - 1, first, sums, -1);
                }

                var rows = Math.Min(y + reach, height - 1) - Math.Max(y - reach, 0) + 1;
                for (var x = first; x < last; x++)
                {
                    result.Values[(y * width) + x] = (float)(sums[x - first] / rows);
                }
            }
        });
        return result;
    }

    /// <summary>
    /// Shrinks by a whole factor: each pixel is the mean of a square. The centre of the first pixel of the result lies at
    /// (<paramref name="factor"/> − 1) / 2 of the original; leftover columns and rows are dropped.
    /// </summary>
    public static GreyImage Shrink(GreyImage image, int factor)
    {
        if (factor == 1)
        {
            return image;
        }

        var width = Math.Max(1, image.Width / factor);
        var height = Math.Max(1, image.Height / factor);
        var small = new GreyImage(width, height);
        Parallel.For(0, height, y =>
        {
            var target = small.Values.AsSpan(y * width, width);
            for (var row = 0; row < factor; row++)
            {
                var source = image.Values.AsSpan(((y * factor) + row) * image.Width);
                for (var x = 0; x < width; x++)
                {
                    var sum = 0f;
                    for (var column = 0; column < factor; column++)
                    {
                        sum += source[(x * factor) + column];
                    }

                    target[x] += sum;
                }
            }

            var share = 1f / (factor * factor);
            for (var x = 0; x < width; x++)
            {
                target[x] *= share;
            }
        });
        return small;
    }

    private static void AddRow(GreyImage image, int y, int first, double[] sums, int sign)
    {
        var row = image.Values.AsSpan((y * image.Width) + first, sums.Length);
        for (var x = 0; x < row.Length; x++)
        {
            sums[x] += sign * row[x];
        }
    }

    private static float[] GaussianKernel(double sigmaPixels)
    {
        if (sigmaPixels <= 0)
        {
            return [1f];
        }

        var reach = Math.Max(1, (int)Math.Ceiling(3.5 * sigmaPixels));
        var kernel = new float[(2 * reach) + 1];
        double sum = 0;
        for (var i = -reach; i <= reach; i++)
        {
            var weight = Math.Exp(-0.5 * i * i / (sigmaPixels * sigmaPixels));
            kernel[i + reach] = (float)weight;
            sum += weight;
        }

        for (var i = 0; i < kernel.Length; i++)
        {
            kernel[i] = (float)(kernel[i] / sum);
        }

        return kernel;
    }

    private static GreyImage Rows(GreyImage image, float[] kernel)
    {
        int width = image.Width, height = image.Height, reach = kernel.Length / 2;
        var result = new GreyImage(width, height);
        Parallel.For(0, height, () => new float[width + (2 * reach)], (y, _, padded) =>
        {
            var source = image.Values.AsSpan(y * width, width);
            padded.AsSpan(0, reach).Fill(source[0]);
            source.CopyTo(padded.AsSpan(reach));
            padded.AsSpan(reach + width).Fill(source[^1]);
            Accumulate(padded, kernel, result.Values.AsSpan(y * width, width));
            return padded;
        }, _ => { });
        return result;
    }

    private static void Accumulate(float[] padded, float[] kernel, Span<float> target)
    {
        target.Clear();
        for (var k = 0; k < kernel.Length; k++)
        {
            AddScaled(padded.AsSpan(k, target.Length), kernel[k], target);
        }
    }

    private static GreyImage Columns(GreyImage image, float[] kernel)
    {
        int width = image.Width, height = image.Height, reach = kernel.Length / 2;
        var result = new GreyImage(width, height);
        Parallel.For(0, height, y =>
        {
            var target = result.Values.AsSpan(y * width, width);
            for (var k = 0; k < kernel.Length; k++)
            {
                var row = Math.Clamp(y + k - reach, 0, height - 1);
                AddScaled(image.Values.AsSpan(row * width, width), kernel[k], target);
            }
        });
        return result;
    }

    private static void AddScaled(ReadOnlySpan<float> source, float factor, Span<float> target)
    {
        var wide = MemoryMarshal.Cast<float, Vector<float>>(target);
        var from = MemoryMarshal.Cast<float, Vector<float>>(source[..target.Length]);
        var scale = new Vector<float>(factor);
        for (var i = 0; i < wide.Length; i++)
        {
            wide[i] += from[i] * scale;
        }

        for (var i = wide.Length * Vector<float>.Count; i < target.Length; i++)
        {
            target[i] += source[i] * factor;
        }
    }
}
