using Secondpass.Domain;
using Secondpass.Domain.Evidence;

namespace Secondpass.Radiographs.Read;

/// <summary>The sizes of picture that are read. Every reader asks here after the header and before it allocates anything of the picture's size.</summary>
internal static class FilmLimits
{
    /// <summary>The most that deflate can pack into one byte: 258 bytes in two bits (RFC 1951, 3.2.5), and a little for block headers.</summary>
    public const int GreatestDeflateRatio = 1032;

    /// <summary>Checks the size that a header states.</summary>
    /// <param name="format">The format's name, for the message.</param>
    /// <param name="width">Columns stated.</param>
    /// <param name="height">Rows stated.</param>
    /// <param name="bytesPerPixel">Channels × bytes of one value, as unpacked.</param>
    /// <returns>The refusal, or null when the size is one that is read.</returns>
    public static Refusal? Check(string format, long width, long height, int bytesPerPixel)
    {
        var greatestSide = FilmReading.GreatestSide.Value;
        if (width < 1 || height < 1)
        {
            return FilmRefusals.Damaged(format, $"it states a picture of {width} × {height} pixels");
        }

        if (width > greatestSide
            || height > greatestSide
            || width * height > FilmReading.GreatestPixelCount.Value
            || width * height * bytesPerPixel > FilmReading.GreatestUnpackedBytes.Value)
        {
            return FilmRefusals.TooLarge(format, width, height);
        }

        var smallestSide = FilmReading.SmallestSide.Value;
        return width < smallestSide || height < smallestSide ? FilmRefusals.TooSmall(width, height) : null;
    }
}
