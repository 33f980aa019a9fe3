using System.Buffers.Binary;
using Secondpass.Domain;

namespace Secondpass.Radiographs.Read.Jpeg;

/// <summary>One marked part of a JPEG file.</summary>
/// <param name="Marker">The second byte of its mark.</param>
/// <param name="Content">Its content without mark and length.</param>
/// <param name="Coded">For a scan: the coded data that follow it, restart marks included; else empty.</param>
internal readonly record struct JpegSegment(int Marker, ReadOnlyMemory<byte> Content, ReadOnlyMemory<byte> Coded);

/// <summary>A JPEG file taken apart into its marked parts, before anything is decoded (ITU-T T.81, Annex B).</summary>
/// <param name="Frame">The frame header.</param>
/// <param name="Parts">Tables and scans in the order of the file.</param>
/// <param name="Jfif">The JFIF block without its name; empty when there is none.</param>
/// <param name="Exif">The Exif block without its name; empty when there is none.</param>
/// <param name="AdobeTransform">The colour transform that an Adobe block states, or null.</param>
internal sealed record JpegSegments(
    JpegFrame Frame,
    IReadOnlyList<JpegSegment> Parts,
    ReadOnlyMemory<byte> Jfif,
    ReadOnlyMemory<byte> Exif,
    int? AdobeTransform)
{
    /// <summary>Marks of tables: Huffman, quantization, restart interval.</summary>
    public const int HuffmanTables = 0xC4, QuantizationTables = 0xDB, RestartInterval = 0xDD;

    /// <summary>Marks of the start of a scan and the end of the picture.</summary>
    public const int Scan = 0xDA, End = 0xD9;

    /// <summary>The most scans that are read. Files in use have up to a dozen; each more costs a pass over the picture.</summary>
    private const int GreatestScanCount = 100;

    /// <summary>Takes the file apart.</summary>
    /// <param name="file">The whole file.</param>
    public static Answer<JpegSegments> Parse(ReadOnlyMemory<byte> file)
    {
        JpegFrame? frame = null;
        var parts = new List<JpegSegment>();
        var jfif = ReadOnlyMemory<byte>.Empty;
        var exif = ReadOnlyMemory<byte>.Empty;
        int? adobeTransform = null;
        var scans = 0;
        var coded = 0L;
        var position = 2;
        while (true)
        {
            var markAt = file.Span[position..].IndexOf((byte)0xFF);
            if (markAt < 0)
            {
                return EndsEarly(file);
            }

            position += markAt;
            while (position < file.Length && file.Span[position] == 0xFF)
            {
                position++;
            }

            if (position >= file.Length)
            {
                return EndsEarly(file);
            }

            int marker = file.Span[position++];
            if (marker == End)
            {
                break;
            }

            // Stuffing, restart marks and a second start mark carry nothing.
            if (marker is 0 or 1 or (>= 0xD0 and <= 0xD8))
            {
                continue;
            }

            if (position + 2 > file.Length)
            {
                return EndsEarly(file);
            }

            int length = BinaryPrimitives.ReadUInt16BigEndian(file.Span[position..]);
            if (length < 2 || position + length > file.Length)
            {
                return FilmRefusals.Damaged(JpegReader.Name, $"its part FF{marker:X2} states {length} bytes, but only {file.Length - position} follow");
            }

            var content = file.Slice(position + 2, length - 2);
            position += length;
            switch (marker)
            {
                case HuffmanTables or QuantizationTables or RestartInterval:
                    parts.Add(new JpegSegment(marker, content, default));
                    break;
                case Scan:
                    if (frame is null)
                    {
                        return FilmRefusals.Damaged(JpegReader.Name, "its picture comes before its header");
                    }

                    var data = file.Slice(position, CodedLength(file.Span[position..]));
                    coded += data.Length;
                    position += data.Length;
                    parts.Add(new JpegSegment(marker, content, data));
                    if (++scans > GreatestScanCount)
                    {
                        return FilmRefusals.Unsupported(JpegReader.Name, $"more than {GreatestScanCount} scans");
                    }

                    break;
                case 0xC8 or 0xDE or 0xDF:
                    return FilmRefusals.Unsupported(JpegReader.Name, "hierarchical JPEG");
                case 0xCC:
                    return FilmRefusals.Unsupported(JpegReader.Name, "JPEG with arithmetic coding");
                case 0xDC:
                    return FilmRefusals.Unsupported(JpegReader.Name, "a height that is stated only after the picture (DNL)");
                case (>= 0xC0 and <= 0xCF) or 0xF7:
                    if (frame is not null)
                    {
                        return FilmRefusals.Damaged(JpegReader.Name, "it has two headers");
                    }

                    if (!JpegFrame.Parse(marker, content.Span).TryGet(out frame, out var refusal))
                    {
                        return refusal;
                    }

                    break;
                case 0xE0 when content.Span.StartsWith("JFIF\0"u8):
                    jfif = content[5..];
                    break;
                case 0xE1 when exif.IsEmpty && content.Span.StartsWith("Exif\0\0"u8):
                    exif = content[6..];
                    break;
                case 0xEE when content.Length >= 12 && content.Span.StartsWith("Adobe"u8):
                    adobeTransform = content.Span[11];
                    break;
                default:
                    break;
            }
        }

        if (frame is null || scans == 0)
        {
            return FilmRefusals.Damaged(JpegReader.Name, "it holds no picture");
        }

        // The shortest code of a block, or of a sample without loss, is one bit; fewer bytes can't hold the picture, so nothing of its size is allocated.
        var codes = frame.Process == JpegProcess.Lossless
            ? (long)frame.Width * frame.Height * frame.Components.Count
            : (long)((frame.Width + 7) / 8) * ((frame.Height + 7) / 8);
        return coded * 8 < codes
            ? FilmRefusals.Damaged(JpegReader.Name, $"it states {frame.Width} × {frame.Height} pixels, which its {coded} bytes of picture can't hold")
            : new JpegSegments(frame, parts, jfif, exif, adobeTransform);
    }

    private static Refusal EndsEarly(ReadOnlyMemory<byte> file) =>
        FilmRefusals.Damaged(JpegReader.Name, $"it ends after {file.Length} bytes without its end mark");

    private static int CodedLength(ReadOnlySpan<byte> rest)
    {
        var position = 0;
        while (true)
        {
            var next = rest[position..].IndexOf((byte)0xFF);
            if (next < 0)
            {
                return rest.Length;
            }

            position += next;
            if (position + 1 >= rest.Length)
            {
                return rest.Length;
            }

            // A stuffed zero and restart marks belong to the coded data; a second FF is filling.
            if (rest[position + 1] is not (0 or 0xFF or (>= 0xD0 and <= 0xD7)))
            {
                return position;
            }

            position += rest[position + 1] == 0xFF ? 1 : 2;
        }
    }
}
