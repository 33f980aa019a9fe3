using System.Numerics;

namespace Secondpass.Phantoms.Imaging;

/// <summary>From the signal at the film to grey values: blur, noise, processing.</summary>
internal static class Sensor
{
    /// <summary>The greatest value of a depth.</summary>
    public static int GreatestValue(int bits) => bits switch
    {
        8 => 255,
        12 => 4095,
        16 => 65535,
        _ => throw new ArgumentOutOfRangeException(nameof(bits), "A film has 8, 12 or 16 bits."),
    };

    public static ushort[] Read(float[] signal, int width, int height, double pixelSize, Exposure exposure, int seed)
    {
        var spread = exposure.NoiseSpreadPixels;
        var blur = exposure.BlurMillimetres / pixelSize;
        Blur(signal, width, height, Math.Sqrt(Math.Max(0, (blur * blur) - (spread * spread))));
        var scatter = (float)exposure.ScatterShare * Mean(signal);
        var perPhoton = (float)(1 / exposure.PhotonsPerPixel);
        Parallel.For(0, height, row =>
        {
            var random = new PhantomRandom(seed, 10_000 + row);
            foreach (ref var value in signal.AsSpan(row * width, width))
            {
                value += scatter;
                value += MathF.Sqrt(value * perPhoton) * random.NextNormal();
            }
        });
        Blur(signal, width, height, spread);
        var electronic = (float)exposure.ElectronicNoise;
        Parallel.For(0, height, row =>
        {
            var random = new PhantomRandom(seed, 20_000 + row);
            foreach (ref var value in signal.AsSpan(row * width, width))
            {
                value += electronic * random.NextNormal();

                // Radiopaque is light: grey rises as the signal falls.
                value = exposure.Scale switch
                {
                    GreyScale.Logarithm => -MathF.Log(MathF.Max(value, 1e-4f)),
                    GreyScale.Signal => -value,
                    _ => MathF.Exp(-(float)exposure.FilmExposure * value),
                };
            }
        });
        return Process(signal, exposure);
    }

    private static ushort[] Process(float[] values, Exposure exposure)
    {
        var (low, high) = Range(values, exposure.ClippedShare);
        var greatest = GreatestValue(exposure.Bits);
        var grey = new ushort[values.Length];
        var perUnit = 1 / MathF.Max(high - low, 1e-6f);
        var gamma = (float)exposure.Gamma;
        Parallel.For(0, (values.Length + 65535) / 65536, block =>
        {
            for (var i = block * 65536; i < Math.Min(values.Length, (block + 1) * 65536); i++)
            {
                var share = Math.Clamp((values[i] - low) * perUnit, 0, 1);
                if (gamma != 1)
                {
                    share = MathF.Pow(share, gamma);
                }

                grey[i] = (ushort)(((exposure.Inverted ? 1 - share : share) * greatest) + 0.5f);
            }
        });
        return grey;
    }

    /// <summary>The values below and above which the given share of pixels lies.</summary>
    private static (float Low, float High) Range(float[] values, double share)
    {
        var (least, greatest) = (float.MaxValue, float.MinValue);
        foreach (var value in values)
        {
            least = MathF.Min(least, value);
            greatest = MathF.Max(greatest, value);
        }

        const int bins = 8192;
        var histogram = new int[bins];
        var perUnit = (bins - 1) / MathF.Max(greatest - least, 1e-6f);
        foreach (var value in values)
        {
            histogram[(int)((value - least) * perUnit)]++;
        }

        var beyond = share * values.Length;
        var (low, high) = (0, bins - 1);
        for (double sum = histogram[low]; sum <= beyond && low < high; sum += histogram[low])
        {
            low++;
        }

        for (double sum = histogram[high]; sum <= beyond && high > low; sum += histogram[high])
        {
            high--;
        }

        return (least + (low / perUnit), least + ((high + 1) / perUnit));
    }

    private static float Mean(float[] values)
    {
        double sum = 0;
        foreach (var value in values)
        {
            sum += value;
        }

        return (float)(sum / values.Length);
    }

    /// <summary>Gaussian blur in place; the film's border is carried on outwards.</summary>
    private static void Blur(float[] values, int width, int height, double sigma)
    {
        if (sigma < 0.05)
        {
            return;
        }

        var reach = (int)Math.Ceiling(3.5 * sigma);
        var kernel = new float[(2 * reach) + 1];
        float sum = 0;
        for (var i = -reach; i <= reach; i++)
        {
            kernel[i + reach] = (float)Math.Exp(-0.5 * i * i / (sigma * sigma));
            sum += kernel[i + reach];
        }

        for (var i = 0; i < kernel.Length; i++)
        {
            kernel[i] /= sum;
        }

        Parallel.For(0, height, () => new float[width + (2 * reach)], (row, _, padded) =>
        {
            var line = values.AsSpan(row * width, width);
            padded.AsSpan(0, reach).Fill(line[0]);
            line.CopyTo(padded.AsSpan(reach));
            padded.AsSpan(reach + width).Fill(line[^1]);
            line.Clear();
            for (var k = 0; k < kernel.Length; k++)
            {
                AddScaled(line, padded.AsSpan(k, width), kernel[k]);
            }

            return padded;
        }, _ => { });
        var across = (float[])values.Clone();
        Parallel.For(0, height, row =>
        {
            var line = values.AsSpan(row * width, width);
            line.Clear();
            for (var k = -reach; k <= reach; k++)
            {
                AddScaled(line, across.AsSpan(Math.Clamp(row + k, 0, height - 1) * width, width), kernel[k + reach]);
            }
        });
    }

    private static void AddScaled(Span<float> into, ReadOnlySpan<float> from, float factor)
    {
        var lanes = Vector<float>.Count;
        var i = 0;
        for (; i <= into.Length - lanes; i += lanes)
        {
            (new Vector<float>(into[i..]) + (factor * new Vector<float>(from[i..]))).CopyTo(into[i..]);
        }

        for (; i < into.Length; i++)
        {
            into[i] += factor * from[i];
        }
    }
}
