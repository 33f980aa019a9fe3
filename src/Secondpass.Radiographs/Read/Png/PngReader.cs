using System.Buffers.Binary;
using Secondpass.Domain;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Straighten;

namespace Secondpass.Radiographs.Read.Png;

/// <summary>Reads PNG files, strictly: a wrong checksum, a missing row or a missing end is a refusal. See README.md beside this file.</summary>
internal static class PngReader
{
    /// <summary>The format's name in messages.</summary>
    public const string Name = "PNG";

    private const double MillimetresPerMetre = 1000;

    /// <summary>Reads the film.</summary>
    /// <param name="file">The whole file.</param>
    /// <param name="meaning">What its colours stand for.</param>
    public static Answer<DecodedFilm> Read(ReadOnlyMemory<byte> file, ColourMeaning meaning = ColourMeaning.Exported)
    {
        if (!PngChunks.Parse(file).TryGet(out var chunks, out var refusal))
        {
            return refusal;
        }

        var header = chunks.Header;
        if (header.HasPalette && chunks.Palette.IsEmpty)
        {
            return FilmRefusals.Damaged(Name, "it needs a palette and has none");
        }

        if (!PngPixels.Unpack(chunks, meaning).TryGet(out var pixels, out refusal))
        {
            return refusal;
        }

        var notices = new List<string>();
        if (header.Channels >= 3 || header.HasPalette)
        {
            notices.Add(Luminance.Notice(pixels.AnyColour));
        }

        if (header.HasAlpha || chunks.HasTransparency)
        {
            notices.Add(FilmNotices.TransparencyIgnored);
        }

        if (chunks.IsAnimated)
        {
            notices.Add(FilmNotices.AnimationIgnored);
        }

        var photographed = StraightenedMark.Read(chunks.Text.Span);
        if (photographed is not null)
        {
            notices.Add(FilmNotices.Photographed);
        }

        return new DecodedFilm(header.Width, header.Height, pixels.Values, header.GreatestValue, Spacing(chunks, notices), null, notices) { Photographed = photographed };
    }

    // ISO/IEC 15948, 11.3.5.3: pixels per unit along x and y, and the unit, of which only the metre (1) is a length.
    private static FileSpacing? Spacing(PngChunks chunks, List<string> notices)
    {
        var block = chunks.PhysicalSize.Span;
        return block.Length != 9 || block[8] != 1
            ? null
            : StatedResolution.ToSpacing(
                BinaryPrimitives.ReadUInt32BigEndian(block),
                BinaryPrimitives.ReadUInt32BigEndian(block[4..]),
                MillimetresPerMetre,
                notices);
    }
}
