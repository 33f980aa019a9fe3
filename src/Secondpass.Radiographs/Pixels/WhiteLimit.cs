using System.Numerics;
using System.Runtime.InteropServices;

namespace Secondpass.Radiographs.Pixels;

/// <summary>Finds the grey from which on a film shows everything alike, as white as it can.</summary>
/// <remarks>
/// Sensors' programs often spread the grey scale until the brightest filling is cut off: then as many pixels share the last
/// white as no grey below it holds. What is that white was at least so radiopaque; how much more, the film doesn't say.
/// </remarks>
internal static class WhiteLimit
{
    /// <summary>Width of the bands of grey that are counted, as a share of the film's range; lossy compression spreads a plateau over about so much.</summary>
    private const double Band = 0.01;

    /// <summary>Fewer white pixels than this are specks.</summary>
    private const int LeastPixels = 200;

    /// <summary>The last band must hold so many times the pixels of each of the two below it.</summary>
    private const int Crowding = 3;

    /// <summary>The limit.</summary>
    /// <param name="values">Grey values, greater when more radiopaque.</param>
    /// <returns>The grey from which on all is white; positive infinity where the film ends in no such plateau.</returns>
    public static float Of(ReadOnlySpan<float> values)
    {
        var range = GreyRange.Of(values);
        var high = (float)range.High;
        var band = (float)((range.High - range.Low) * Band);
        Span<int> counts = stackalloc int[3];
        var together = MemoryMarshal.Cast<float, Vector<float>>(values);
        for (var i = 0; i < together.Length; i++)
        {
            // Few pixels are so light: most are passed over several at once.
            if (Vector.LessThanAny(new Vector<float>(high) - together[i], new Vector<float>(3 * band)))
            {
                Count(values.Slice(i * Vector<float>.Count, Vector<float>.Count), high, band, counts);
            }
        }

        Count(values[(together.Length * Vector<float>.Count)..], high, band, counts);

        return counts[0] >= LeastPixels && counts[0] > Crowding * Math.Max(counts[1], counts[2]) ? high - band : float.PositiveInfinity;
    }

    private static void Count(ReadOnlySpan<float> values, float high, float band, Span<int> counts)
    {
        foreach (var value in values)
        {
            var below = high - value;
            if (below < 3 * band)
            {
                counts[(int)(below / band)]++;
            }
        }
    }
}
