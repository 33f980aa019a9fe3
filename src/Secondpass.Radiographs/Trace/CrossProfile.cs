using System.Runtime.CompilerServices;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Pixels;

namespace Secondpass.Radiographs.Trace;

/// <summary>Grey values across a path at one level, one per pixel, the path in the middle.</summary>
internal static class CrossProfile
{
    /// <summary>Samples across a place.</summary>
    /// <param name="image">Grey values.</param>
    /// <param name="at">The place.</param>
    /// <param name="along">Direction of the path there, of length 1.</param>
    /// <param name="alongReachPixels">Values are averaged over this many pixels before and behind along the path, tent-weighted.</param>
    /// <param name="values">Receives 2·reach + 1 values; the first lies left of the way along the path as the film is shown.</param>
    [MethodImpl(Compilation.AtOnce)]
    public static void Sample(GreyImage image, PixelPoint at, PixelPoint along, int alongReachPixels, Span<double> values)
    {
        var reach = values.Length / 2;
        var left = new PixelPoint(along.Y, -along.X);
        values.Clear();
        double sum = 0;
        for (var step = -alongReachPixels; step <= alongReachPixels; step++)
        {
            var weight = 1.0 - (Math.Abs(step) / (alongReachPixels + 1.0));
            sum += weight;
            var middle = at + (along * step);
            for (var i = 0; i < values.Length; i++)
            {
                var offset = reach - i;
                values[i] += weight * image.At(middle.X + (left.X * offset), middle.Y + (left.Y * offset));
            }
        }

        for (var i = 0; i < values.Length; i++)
        {
            values[i] /= sum;
        }
    }

    /// <summary>The signed offset from the path of one of the sampled values, in pixels: positive to the left.</summary>
    public static int OffsetOf(int index, int count) => (count / 2) - index;
}
