using Secondpass.Radiographs.Pixels;

namespace Secondpass.Radiographs.Trace;

/// <summary>How much each pixel looks like the crest of a bright line a few pixels wide.</summary>
/// <remarks>
/// The greater negative second derivative across the line, scaled by the square of the blur so that lines of different
/// width compare (Lindeberg, Int J Comput Vis 1998;30:117–154), the greatest over several blurs.
/// </remarks>
internal static class RidgeMeasure
{
    private static readonly double[] BlursPixels = [1.5, 2.5, 4.0, 6.0];

    /// <summary>Computes the measure.</summary>
    /// <param name="image">Grey values; lines of interest are brighter than their surroundings.</param>
    /// <returns>Strength of bright lines and strength of dark lines, each 0 or more, in grey levels.</returns>
    public static (GreyImage Bright, GreyImage Dark) Of(GreyImage image)
    {
        int width = image.Width, height = image.Height;
        var bright = new GreyImage(width, height);
        var dark = new GreyImage(width, height);
        foreach (var blur in BlursPixels)
        {
            var soft = Smooth.Gaussian(image, blur).Values;
            var scale = (float)(blur * blur);
            Parallel.For(1, height - 1, y =>
            {
                for (var x = 1; x < width - 1; x++)
                {
                    var i = (y * width) + x;
                    var xx = soft[i - 1] - (2 * soft[i]) + soft[i + 1];
                    var yy = soft[i - width] - (2 * soft[i]) + soft[i + width];
                    var xy = 0.25f * (soft[i - width - 1] - soft[i - width + 1] - soft[i + width - 1] + soft[i + width + 1]);
                    var half = 0.5f * (xx + yy);
                    var root = MathF.Sqrt((0.25f * (xx - yy) * (xx - yy)) + (xy * xy));
                    bright.Values[i] = Math.Max(bright.Values[i], scale * (root - half));
                    dark.Values[i] = Math.Max(dark.Values[i], scale * (root + half));
                }
            });
        }

        return (bright, dark);
    }
}
