using Secondpass.Domain.Films;

namespace Secondpass.Exchange.Pictures;

/// <summary>A part of a film, in whole pixels.</summary>
/// <param name="Left">First column.</param>
/// <param name="Top">First row.</param>
/// <param name="Width">Columns.</param>
/// <param name="Height">Rows.</param>
internal readonly record struct FilmRegion(int Left, int Top, int Width, int Height)
{
    /// <summary>The whole of a film.</summary>
    public static FilmRegion Whole(int width, int height) => new(0, 0, width, height);
}

/// <summary>Turns a film's grey values into an image for the eye.</summary>
internal static class FilmImage
{
    /// <summary>More pixels than this on a side are averaged down: paper and screens show no more.</summary>
    public const int GreatestSide = 1400;

    /// <summary>A part of a film as it is first shown: through its window, or with the curve of shades that its file asks for.</summary>
    /// <param name="pixels">Grey values, row by row.</param>
    /// <param name="filmWidth">Columns of the film.</param>
    /// <param name="region">The part shown.</param>
    /// <param name="window">Values shown black and white.</param>
    /// <param name="curve">The curve of shades; null for a straight line.</param>
    /// <param name="darkest">What black becomes, 0 to 1: above 0, or below 1 for <paramref name="lightest"/>, a film steps back behind what is drawn on it.</param>
    /// <param name="lightest">What white becomes, 0 to 1.</param>
    /// <param name="greatestSidePixels">The most pixels on the longer side.</param>
    public static GreyImage Shown(
        ReadOnlySpan<ushort> pixels, int filmWidth, FilmRegion region, GreyWindow window, GreyCurve? curve = null, double darkest = 0, double lightest = 1, int greatestSidePixels = GreatestSide)
    {
        var (longSide, shortSide) = (Math.Max(region.Width, region.Height), Math.Min(region.Width, region.Height));
        var step = Math.Min(shortSide, (int)Math.Ceiling(longSide / (double)greatestSidePixels));
        var (width, height) = (region.Width / step, region.Height / step);
        var shown = new byte[width * height];
        for (var row = 0; row < height; row++)
        {
            for (var column = 0; column < width; column++)
            {
                var sum = 0.0;
                for (var y = 0; y < step; y++)
                {
                    var place = ((region.Top + (row * step) + y) * filmWidth) + region.Left + (column * step);
                    for (var x = 0; x < step; x++)
                    {
                        sum += pixels[place + x];
                    }
                }

                var mean = sum / (step * step);
                var share = curve is { Shades: var shades }
                    ? shades.Span[Math.Min(shades.Length - 1, (int)Math.Round(mean, MidpointRounding.AwayFromZero))] / 255.0
                    : Math.Clamp((mean - window.Black) / (window.White - window.Black), 0, 1);
                shown[(row * width) + column] = (byte)Math.Round(255 * double.Lerp(darkest, lightest, share), MidpointRounding.AwayFromZero);
            }
        }

        return new GreyImage(width, height, shown);
    }
}
