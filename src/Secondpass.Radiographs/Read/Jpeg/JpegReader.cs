using System.Buffers.Binary;
using Secondpass.Domain;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Read.Tiff;

namespace Secondpass.Radiographs.Read.Jpeg;

/// <summary>Reads JPEG files of the baseline, extended and progressive kinds with Huffman codes. See README.md beside this file.</summary>
internal static class JpegReader
{
    /// <summary>The format's name in messages.</summary>
    public const string Name = "JPEG";

    private const double MillimetresPerCentimetre = 10;

    /// <summary>Reads the film.</summary>
    /// <param name="file">The whole file.</param>
    public static Answer<DecodedFilm> Read(ReadOnlyMemory<byte> file)
    {
        if (!JpegSegments.Parse(file).TryGet(out var segments, out var refusal) || !JpegDecoder.Decode(segments).TryGet(out var planes, out refusal))
        {
            return refusal;
        }

        var frame = segments.Frame;
        var notices = new List<string>();
        ushort[] pixels;
        if (planes.Count == 1)
        {
            pixels = Grey(frame, planes[0]);
        }
        else
        {
            pixels = Colour(frame, planes, IsRgb(segments), out var anyColour);
            notices.Add(Luminance.Notice(anyColour));
        }

        notices.Add(FilmNotices.LossyCompression);
        var film = new DecodedFilm(frame.Width, frame.Height, pixels, (1 << frame.Precision) - 1, Spacing(segments.Jfif.Span, notices), null, notices);
        return Orientation.Upright(film, TiffDirectory.Parse(segments.Exif)?.Number(Orientation.Tag) ?? 1);
    }

    private static ushort[] Grey(JpegFrame frame, JpegPlane plane)
    {
        var pixels = new ushort[frame.Width * frame.Height];
        for (var y = 0; y < frame.Height; y++)
        {
            plane.Samples.AsSpan(y * plane.Stride, frame.Width).CopyTo(pixels.AsSpan(y * frame.Width));
        }

        return pixels;
    }

    private static ushort[] Colour(JpegFrame frame, IReadOnlyList<JpegPlane> planes, bool isRgb, out bool anyColour)
    {
        anyColour = false;
        var pixels = new ushort[frame.Width * frame.Height];
        var (a, b, c) = (planes[0], planes[1], planes[2]);
        var greatest = (1 << frame.Precision) - 1;
        var centre = 1 << (frame.Precision - 1);
        for (var y = 0; y < frame.Height; y++)
        {
            for (var x = 0; x < frame.Width; x++)
            {
                var (red, green, blue) = (At(frame, a, x, y), At(frame, b, x, y), At(frame, c, x, y));
                if (!isRgb)
                {
                    (red, green, blue) = ToRgb(red, green - centre, blue - centre, greatest);
                }

                anyColour |= red != green || green != blue;
                pixels[(y * frame.Width) + x] = Luminance.Of(red, green, blue);
            }
        }

        return pixels;
    }

    private static int At(JpegFrame frame, JpegPlane plane, int x, int y) =>
        plane.Samples[(y * plane.Component.Vertical / frame.GreatestVertical * plane.Stride) + (x * plane.Component.Horizontal / frame.GreatestHorizontal)];

    // ITU-T T.871, clause 7, in 16 fractional bits.
    private static (int Red, int Green, int Blue) ToRgb(int luma, int blueDifference, int redDifference, int greatest)
    {
        const int half = 1 << 15;
        var red = luma + (((91881 * redDifference) + half) >> 16);
        var green = luma + (((-22554 * blueDifference) - (46802 * redDifference) + half) >> 16);
        var blue = luma + (((116130 * blueDifference) + half) >> 16);
        return (Math.Clamp(red, 0, greatest), Math.Clamp(green, 0, greatest), Math.Clamp(blue, 0, greatest));
    }

    private static bool IsRgb(JpegSegments segments) =>
        segments.AdobeTransform is { } transform
            ? transform == 0
            : segments.Jfif.IsEmpty && segments.Frame.Components.Select(component => (char)component.Identifier).SequenceEqual("RGB");

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
