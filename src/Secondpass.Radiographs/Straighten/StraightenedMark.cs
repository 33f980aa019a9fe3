using System.Globalization;
using System.Text;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;

namespace Secondpass.Radiographs.Straighten;

/// <summary>The text by which a file says that it was straightened from a photograph: the keyword and content of a PNG tEXt block (ISO/IEC 15948, 11.3.4.3).</summary>
/// <remarks>So the file tells it wherever it is read. A text that can't be right is left out, as any foreign one.</remarks>
internal static class StraightenedMark
{
    private const int Numbers = 12;
    private const int DigestLength = 64;
    private const int LongestText = 1000;
    private const double GreatestMillimetres = 500;

    private static ReadOnlySpan<byte> Keyword => "Straightened photograph of a film\0"u8;

    /// <summary>Whether a block is such a text.</summary>
    public static bool Recognises(ReadOnlySpan<byte> block) => block.StartsWith(Keyword);

    /// <summary>The block's content.</summary>
    public static byte[] Write(PhotographedFilm film)
    {
        double[] numbers =
        [
            .. film.Corners.SelectMany(corner => new[] { corner.X, corner.Y }),
            film.Width.Value,
            film.Height.Value,
            film.MarkDeviationPixels,
            film.LengthDeviationShare,
        ];
        var text = string.Join(' ', numbers.Select(number => number.ToString("R", CultureInfo.InvariantCulture)).Prepend(film.PhotographSha256));
        return [.. Keyword, .. Encoding.ASCII.GetBytes(text)];
    }

    /// <summary>What a block says; null when it is no such text or can't be right.</summary>
    public static PhotographedFilm? Read(ReadOnlySpan<byte> block)
    {
        if (!Recognises(block) || block.Length > LongestText)
        {
            return null;
        }

        var words = Encoding.Latin1.GetString(block[Keyword.Length..]).Split(' ');
        var numbers = new double[Numbers];
        if (words.Length != Numbers + 1 || words[0].Length != DigestLength || !words[0].All(char.IsAsciiHexDigitLower))
        {
            return null;
        }

        for (var i = 0; i < Numbers; i++)
        {
            if (!double.TryParse(words[i + 1], NumberStyles.Float, CultureInfo.InvariantCulture, out numbers[i]) || !double.IsFinite(numbers[i]))
            {
                return null;
            }
        }

        var (width, height, pixels, share) = (numbers[8], numbers[9], numbers[10], numbers[11]);
        return width is > 0 and < GreatestMillimetres && height is > 0 and < GreatestMillimetres && pixels is > 0 and < 1000 && share is > 0 and < 1
            ? new PhotographedFilm(
                words[0],
                [.. Enumerable.Range(0, 4).Select(i => new PixelPoint(numbers[2 * i], numbers[(2 * i) + 1]))],
                new Millimetres(width),
                new Millimetres(height),
                pixels,
                share)
            : null;
    }
}
