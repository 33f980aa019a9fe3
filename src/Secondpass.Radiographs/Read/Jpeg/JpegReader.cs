using System.Buffers.Binary;
using Secondpass.Domain;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Read.Tiff;

namespace Secondpass.Radiographs.Read.Jpeg;

/// <summary>Reads JPEG files of the baseline, extended, progressive and lossless kinds with Huffman codes. See README.md beside this file.</summary>
internal static class JpegReader
{
    /// <summary>The format's name in messages.</summary>
    public const string Name = "JPEG";

    private const double MillimetresPerCentimetre = 10;

    /// <summary>Reads the film.</summary>
    /// <param name="file">The whole file.</param>
    /// <param name="meaning">What its colours stand for.</param>
    public static Answer<DecodedFilm> Read(ReadOnlyMemory<byte> file, ColourMeaning meaning = ColourMeaning.Exported)
    {
        if (!JpegSegments.Parse(file).TryGet(out var segments, out var refusal) || !JpegDecoder.Decode(segments).TryGet(out var picture, out refusal))
        {
            return refusal;
        }

        var frame = segments.Frame;
        var notices = new List<string>();
        ushort[] pixels;
        if (frame.Components.Count == 1)
        {
            pixels = picture.Grey();
        }
        else
        {
            pixels = picture.Luma(picture.IsRgb, out var anyColour, meaning);
            notices.Add(Luminance.Notice(anyColour));
        }

        var greatest = (1 << frame.Precision) - 1;
        if (pixels.AsSpan().ContainsAnyExceptInRange((ushort)0, (ushort)greatest))
        {
            return FilmRefusals.Damaged(Name, $"it holds values beyond its {frame.Precision} bits");
        }

        if (picture.HasLoss)
        {
            notices.Add(FilmNotices.LossyCompression);
        }

        var film = new DecodedFilm(frame.Width, frame.Height, pixels, greatest, Spacing(segments.Jfif.Span, notices), null, notices);
        return Orientation.Upright(film, TiffDirectory.Parse(segments.Exif)?.Number(Orientation.Tag) ?? 1);
    }

    // ITU-T T.871, 10.1: version (2 bytes), unit, density along x and y. Unit 0 is an aspect ratio only.
    private static FileSpacing? Spacing(ReadOnlySpan<byte> jfif, List<string> notices)
    {
        if (jfif.Length < 7 || jfif[2] is not (1 or 2))
        {
            return null;
        }

        return StatedResolution.ToSpacing(
            BinaryPrimitives.ReadUInt16BigEndian(jfif[3..]),
            BinaryPrimitives.ReadUInt16BigEndian(jfif[5..]),
            jfif[2] == 1 ? StatedResolution.MillimetresPerInch : MillimetresPerCentimetre,
            notices);
    }
}
