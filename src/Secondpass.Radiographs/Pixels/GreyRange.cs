using System.Numerics;
using System.Runtime.InteropServices;

namespace Secondpass.Radiographs.Pixels;

/// <summary>The least and greatest grey value of a film.</summary>
internal readonly record struct GreyRange(double Low, double High)
{
    /// <summary>High minus low.</summary>
    public double Span => Math.Max(1e-9, High - Low);

    /// <summary>The range of an image.</summary>
    public static GreyRange Of(GreyImage image) => Of(image.Values);

    /// <summary>The range of grey values, at least one.</summary>
    public static GreyRange Of(ReadOnlySpan<float> values)
    {
        float low = values[0], high = low;
        var together = MemoryMarshal.Cast<float, Vector<float>>(values);
        if (together.Length > 0)
        {
            Vector<float> lows = together[0], highs = lows;
            foreach (var several in together)
            {
                lows = Vector.Min(lows, several);
                highs = Vector.Max(highs, several);
            }

            for (var i = 0; i < Vector<float>.Count; i++)
            {
                low = Math.Min(low, lows[i]);
                high = Math.Max(high, highs[i]);
            }
        }

        foreach (var value in values[(together.Length * Vector<float>.Count)..])
        {
            low = Math.Min(low, value);
            high = Math.Max(high, value);
        }

        return new GreyRange(low, high);
    }
}
