using Secondpass.Domain;
using Secondpass.Domain.Films;

namespace Secondpass.Radiographs.Read.Bmp;

/// <summary>Reads BMP files without compression. See README.md beside this file.</summary>
internal static class BmpReader
{
    /// <summary>The format's name in messages.</summary>
    public const string Name = "BMP";

    private const double MillimetresPerMetre = 1000;
    private const int GreatestValue = 255;

    /// <summary>Reads the film.</summary>
    /// <param name="file">The whole file.</param>
    public static Answer<DecodedFilm> Read(ReadOnlyMemory<byte> file)
    {
        if (!BmpHeader.Parse(file.Span).TryGet(out var header, out var refusal))
        {
            return refusal;
        }

        var palette = Palette(file.Span, header);
        var pixels = new ushort[header.Width * header.Height];
        var (anyColour, anyTransparent) = (false, false);
        for (var y = 0; y < header.Height; y++)
        {
            var stored = header.IsTopDown ? y : header.Height - 1 - y;
            var row = file.Span.Slice(header.PixelsAt + (stored * header.RowBytes), header.RowBytes);
            for (var x = 0; x < header.Width; x++)
            {
                var (red, green, blue) = (0, 0, 0);
                if (header.HasPalette)
                {
                    var index = Index(row, x, header.Depth);
                    if (index >= palette.Length)
                    {
                        return FilmRefusals.Damaged(Name, $"row {y + 1} names a colour that is not in its palette of {palette.Length}");
                    }

                    (red, green, blue) = palette[index];
                }
                else
                {
                    var pixel = row[(x * header.Depth / 8)..];
                    (red, green, blue) = (pixel[2], pixel[1], pixel[0]);
                    anyTransparent |= header.Depth == 32 && pixel[3] is not (0 or 255);
                }

                anyColour |= red != green || green != blue;
                pixels[(y * header.Width) + x] = Luminance.Of(red, green, blue);
            }
        }

        var notices = new List<string>();
        if (!header.HasPalette || anyColour)
        {
            notices.Add(Luminance.Notice(anyColour));
        }

        if (anyTransparent)
        {
            notices.Add(FilmNotices.TransparencyIgnored);
        }

        return new DecodedFilm(header.Width, header.Height, pixels, GreatestValue, Spacing(header, notices), null, notices);
    }

    private static (int Red, int Green, int Blue)[] Palette(ReadOnlySpan<byte> file, BmpHeader header)
    {
        var palette = new (int Red, int Green, int Blue)[header.PaletteCount];
        for (var i = 0; i < palette.Length; i++)
        {
            var colour = file[(header.PaletteAt + (i * header.PaletteStep))..];
            palette[i] = (colour[2], colour[1], colour[0]);
        }

        return palette;
    }

    private static int Index(ReadOnlySpan<byte> row, int x, int depth)
    {
        var bit = x * depth;
        return (row[bit / 8] >> (8 - depth - (bit % 8))) & ((1 << depth) - 1);
    }

    private static FileSpacing? Spacing(BmpHeader header, List<string> notices) =>
        header is { PixelsPerMetreX: 0, PixelsPerMetreY: 0 }
            ? null
            : StatedResolution.ToSpacing(header.PixelsPerMetreX, header.PixelsPerMetreY, MillimetresPerMetre, notices);
}
