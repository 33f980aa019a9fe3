using System.Buffers.Binary;
using Secondpass.Domain;

namespace Secondpass.Radiographs.Read.Jpeg;

/// <summary>Decodes the scans of a JPEG file in order, with the tables that stand before each (ITU-T T.81, B.2).</summary>
internal sealed class JpegDecoder
{
    private const string BreaksOff = "its picture breaks off or holds codes that do not exist";

    private readonly JpegSegments file;
    private readonly ushort[]?[] quantization = new ushort[4][];
    private readonly HuffmanTable?[] dcTables = new HuffmanTable[4];
    private readonly HuffmanTable?[] acTables = new HuffmanTable[4];
    private readonly JpegPlane[] planes;
    private int restartInterval;
    private bool hasBitsLeftOut;

    private JpegDecoder(JpegSegments file)
    {
        this.file = file;
        planes = [.. file.Frame.Components.Select(component => new JpegPlane(file.Frame, component))];
    }

    /// <summary>Decodes the picture.</summary>
    /// <param name="file">The file's parts.</param>
    /// <returns>The picture, or a refusal of a damaged or incomplete one.</returns>
    public static Answer<JpegPicture> Decode(JpegSegments file)
    {
        var decoder = new JpegDecoder(file);
        foreach (var part in file.Parts)
        {
            if (decoder.Take(part) is { } what)
            {
                return FilmRefusals.Damaged(JpegReader.Name, what);
            }
        }

        if (decoder.planes.Any(plane => Array.Exists(plane.KnownBits, bit => bit != 0)))
        {
            return FilmRefusals.Damaged(JpegReader.Name, "it holds only a part of its picture");
        }

        if (file.Frame.Process == JpegProcess.Progressive)
        {
            foreach (var plane in decoder.planes)
            {
                plane.ShowAll();
            }
        }

        return new JpegPicture(file, decoder.planes, file.Frame.Process != JpegProcess.Lossless || decoder.hasBitsLeftOut);
    }

    private string? Take(JpegSegment part) => part.Marker switch
    {
        JpegSegments.QuantizationTables => TakeQuantization(part.Content.Span),
        JpegSegments.HuffmanTables => TakeHuffman(part.Content.Span),
        JpegSegments.RestartInterval => TakeRestartInterval(part.Content.Span),
        _ => TakeScan(part),
    };

    private string? TakeRestartInterval(ReadOnlySpan<byte> content)
    {
        if (content.Length < 2)
        {
            return "its restart interval is missing";
        }

        restartInterval = BinaryPrimitives.ReadUInt16BigEndian(content);
        return null;
    }

    private string? TakeQuantization(ReadOnlySpan<byte> content)
    {
        while (!content.IsEmpty)
        {
            var (bytes, number) = (1 + (content[0] >> 4), content[0] & 15);
            if (bytes > 2 || number > 3 || content.Length < 1 + (64 * bytes))
            {
                return "a quantization table is incomplete";
            }

            var table = new ushort[64];
            for (var k = 0; k < 64; k++)
            {
                table[JpegScan.Place(k)] = bytes == 1 ? content[1 + k] : BinaryPrimitives.ReadUInt16BigEndian(content[(1 + (2 * k))..]);
            }

            quantization[number] = table;
            content = content[(1 + (64 * bytes))..];
        }

        return null;
    }

    private string? TakeHuffman(ReadOnlySpan<byte> content)
    {
        while (!content.IsEmpty)
        {
            if (content.Length < 17)
            {
                return "a Huffman table is incomplete";
            }

            var (kind, number) = (content[0] >> 4, content[0] & 15);
            var counts = content.Slice(1, 16);
            var count = 0;
            foreach (var codes in counts)
            {
                count += codes;
            }

            if (kind > 1 || number > 3 || count > 256 || content.Length < 17 + count
                || HuffmanTable.Make(counts, content.Slice(17, count)) is not { } table)
            {
                return "a Huffman table is not one";
            }

            (kind == 0 ? dcTables : acTables)[number] = table;
            content = content[(17 + count)..];
        }

        return null;
    }

    private string? TakeScan(JpegSegment part)
    {
        var header = part.Content.Span;
        var count = header.IsEmpty ? 0 : header[0];
        if (count < 1 || count > planes.Length || header.Length < 4 + (2 * count))
        {
            return "the header of a scan is incomplete";
        }

        var parts = new JpegScanPart[count];
        for (var i = 0; i < count; i++)
        {
            var (identifier, tables) = (header[1 + (2 * i)], header[2 + (2 * i)]);
            var plane = Array.Find(planes, candidate => candidate.Component.Identifier == identifier);
            if (plane is null || parts.Take(i).Any(other => other.Plane == plane))
            {
                return "a scan names a colour channel that is not there";
            }

            parts[i] = new JpegScanPart(plane, dcTables[(tables >> 4) & 3], acTables[tables & 3]);
        }

        var band = header[(1 + (2 * count))..];
        return file.Frame.Process == JpegProcess.Lossless
            ? TakeLossless(parts, band[0], band[2] & 15, part.Coded.Span)
            : TakeCoefficients(parts, band, part.Coded.Span);
    }

    // T.81, B.2.3 and table B.3: without loss, the first number names the predictor and the last half byte the bits left out.
    private string? TakeLossless(JpegScanPart[] parts, int predictor, int bitsLeftOut, ReadOnlySpan<byte> coded)
    {
        if (predictor is < 1 or > 7 || bitsLeftOut >= file.Frame.Precision)
        {
            return "the header of a scan names a prediction that can't be";
        }

        if (restartInterval % file.Frame.Width != 0)
        {
            return "its restart marks do not stand at the beginning of rows";
        }

        foreach (var part in parts)
        {
            if (part.Dc is null)
            {
                return "a scan needs a Huffman table that is missing";
            }

            if (part.Plane.KnownBits[0] == 0)
            {
                return "its scans do not follow each other";
            }

            part.Plane.KnownBits.AsSpan().Clear();
        }

        hasBitsLeftOut |= bitsLeftOut > 0;
        return new JpegLosslessScan(parts, predictor, bitsLeftOut).Decode(file.Frame, coded, restartInterval) ? null : BreaksOff;
    }

    private string? TakeCoefficients(JpegScanPart[] parts, ReadOnlySpan<byte> band, ReadOnlySpan<byte> coded)
    {
        var progressive = file.Frame.Process == JpegProcess.Progressive;
        var (first, last, high, low) = progressive ? (band[0], band[1], band[2] >> 4, band[2] & 15) : (0, 63, 0, 0);
        if (first > last || last > 63 || low > 13 || (progressive && (first == 0 ? last > 0 : parts.Length > 1)) || (high > 0 && high != low + 1))
        {
            return "the header of a scan names coefficients that can't be";
        }

        foreach (var part in parts)
        {
            if ((first == 0 && high == 0 && part.Dc is null) || (last > 0 && part.Ac is null))
            {
                return "a scan needs a Huffman table that is missing";
            }

            var plane = part.Plane;
            plane.Quantization ??= quantization[plane.Component.QuantizationTable];
            if (plane.Quantization is null)
            {
                return "a scan needs a quantization table that is missing";
            }

            // Each bit of a coefficient comes once and in order (T.81, G.1.1.1.1).
            foreach (ref var known in plane.KnownBits.AsSpan(first, last - first + 1))
            {
                if (known != (high == 0 ? -1 : high))
                {
                    return "its scans do not follow each other";
                }

                known = low;
            }
        }

        return new JpegScan(parts, first, last, high, low).Decode(file.Frame, coded, restartInterval) ? null : BreaksOff;
    }
}
