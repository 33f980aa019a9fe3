using System.Buffers.Binary;
using System.IO.Compression;
using System.Runtime.InteropServices;
using Secondpass.Domain;

namespace Secondpass.Radiographs.Read.Png;

/// <summary>Unpacks the pixels of a PNG file row by row; never more than the header states.</summary>
internal sealed class PngPixels
{
    private readonly PngChunks chunks;
    private readonly PngHeader header;
    private readonly ushort[] paletteGreys;
    private readonly bool paletteHasColour;
    private readonly ColourMeaning meaning;

    private PngPixels(PngChunks chunks, ColourMeaning meaning)
    {
        this.chunks = chunks;
        this.meaning = meaning;
        header = chunks.Header;
        Values = new ushort[header.Width * header.Height];
        var palette = chunks.Palette.Span;
        paletteGreys = new ushort[palette.Length / 3];
        for (var i = 0; i < paletteGreys.Length; i++)
        {
            var (red, green, blue) = (palette[3 * i], palette[(3 * i) + 1], palette[(3 * i) + 2]);
            paletteGreys[i] = Grey(red, green, blue, byte.MaxValue);
            paletteHasColour |= red != green || green != blue;
        }
    }

    /// <summary>Grey values, row by row from the top.</summary>
    public ushort[] Values { get; }

    /// <summary>Whether any pixel, or the palette, was not grey.</summary>
    public bool AnyColour { get; private set; }

    /// <summary>Unpacks the pixels.</summary>
    /// <param name="chunks">The file's blocks.</param>
    /// <param name="meaning">What its colours stand for.</param>
    public static Answer<PngPixels> Unpack(PngChunks chunks, ColourMeaning meaning = ColourMeaning.Exported)
    {
        var needed = PngPass.Of(chunks.Header).Sum(pass => pass.UnpackedBytes(chunks.Header));
        if (needed > (chunks.DataLength + 8) * FilmLimits.GreatestDeflateRatio)
        {
            return FilmRefusals.Damaged(
                PngReader.Name,
                $"it states {chunks.Header.Width} × {chunks.Header.Height} pixels, which its {chunks.DataLength} bytes of picture can't hold");
        }

        var pixels = new PngPixels(chunks, meaning);
        try
        {
            return pixels.UnpackAll() is { } refusal ? refusal : pixels;
        }
        catch (Exception fault) when (fault is InvalidDataException or IOException)
        {
            // No sound code; or one that needs a dictionary beside the file, which comes as the other kind.
            return FilmRefusals.Damaged(PngReader.Name, "its compressed picture can't be unpacked");
        }
    }

    private Refusal? UnpackAll()
    {
        using var packed = new MemoryStream((int)chunks.DataLength);
        foreach (var part in chunks.Data)
        {
            packed.Write(part.Span);
        }

        packed.Position = 0;
        using var unpacked = new ZLibStream(packed, CompressionMode.Decompress);
        foreach (var pass in PngPass.Of(header))
        {
            if (UnpackPass(unpacked, pass) is { } refusal)
            {
                return refusal;
            }
        }

        // Reading past the last row also makes the stream check its own checksum.
        return unpacked.ReadByte() < 0 ? null : FilmRefusals.Damaged(PngReader.Name, "its picture goes on after the last row");
    }

    private Refusal? UnpackPass(ZLibStream unpacked, PngPass pass)
    {
        var columns = pass.Columns(header);
        var rowBytes = header.RowBytes(columns);
        if (columns == 0)
        {
            return null;
        }

        var bytesPerPixel = Math.Max(1, header.Channels * header.Depth / 8);
        var row = new byte[1 + rowBytes];
        var above = new byte[1 + rowBytes];
        var greys = new ushort[columns];
        for (var y = pass.FirstY; y < header.Height; y += pass.StepY)
        {
            if (unpacked.ReadAtLeast(row, row.Length, throwOnEndOfStream: false) < row.Length)
            {
                return FilmRefusals.Damaged(PngReader.Name, $"its picture ends in row {y + 1} of {header.Height}");
            }

            if (!Unfilter(row[0], row.AsSpan(1), above.AsSpan(1), bytesPerPixel))
            {
                return FilmRefusals.Damaged(PngReader.Name, $"row {y + 1} uses filter {row[0]}, which does not exist");
            }

            if (!ToGreys(row.AsSpan(1), greys))
            {
                return FilmRefusals.Damaged(PngReader.Name, $"row {y + 1} names a colour that is not in its palette of {paletteGreys.Length}");
            }

            for (var i = 0; i < columns; i++)
            {
                Values[(y * header.Width) + pass.FirstX + (i * pass.StepX)] = greys[i];
            }

            (row, above) = (above, row);
        }

        return null;
    }

    // ISO/IEC 15948, 9.2.
    private static bool Unfilter(byte filter, Span<byte> row, ReadOnlySpan<byte> above, int bytesPerPixel)
    {
        switch (filter)
        {
            case 0:
                return true;
            case 1:
                for (var i = bytesPerPixel; i < row.Length; i++)
                {
                    row[i] += row[i - bytesPerPixel];
                }

                return true;
            case 2:
                for (var i = 0; i < row.Length; i++)
                {
                    row[i] += above[i];
                }

                return true;
            case 3:
                for (var i = 0; i < row.Length; i++)
                {
                    var left = i < bytesPerPixel ? 0 : row[i - bytesPerPixel];
                    row[i] += (byte)((left + above[i]) / 2);
                }

                return true;
            case 4:
                for (var i = 0; i < row.Length; i++)
                {
                    row[i] += i < bytesPerPixel
                        ? above[i]
                        : Paeth(row[i - bytesPerPixel], above[i], above[i - bytesPerPixel]);
                }

                return true;
            default:
                return false;
        }
    }

    private static byte Paeth(int left, int above, int aboveLeft)
    {
        var toLeft = Math.Abs(above - aboveLeft);
        var toAbove = Math.Abs(left - aboveLeft);
        var toAboveLeft = Math.Abs(left + above - (2 * aboveLeft));
        return (byte)(toLeft <= toAbove && toLeft <= toAboveLeft ? left : toAbove <= toAboveLeft ? above : aboveLeft);
    }

    private bool ToGreys(ReadOnlySpan<byte> row, Span<ushort> greys)
    {
        if (header.Depth < 8)
        {
            return UnpackBits(row, greys);
        }

        if (header is { Channels: 1, Depth: 16 } && BitConverter.IsLittleEndian)
        {
            BinaryPrimitives.ReverseEndianness(MemoryMarshal.Cast<byte, ushort>(row), greys);
            return true;
        }

        var step = header.Channels * header.Depth / 8;
        for (var i = 0; i < greys.Length; i++)
        {
            var pixel = row.Slice(i * step, step);
            if (header.HasPalette)
            {
                if (pixel[0] >= paletteGreys.Length)
                {
                    return false;
                }

                greys[i] = paletteGreys[pixel[0]];
            }
            else if (header.Channels < 3)
            {
                greys[i] = Sample(pixel, 0);
            }
            else
            {
                var (red, green, blue) = (Sample(pixel, 0), Sample(pixel, 1), Sample(pixel, 2));
                AnyColour |= red != green || green != blue;
                greys[i] = Grey(red, green, blue, header.GreatestValue);
            }
        }

        AnyColour |= header.HasPalette && paletteHasColour;
        return true;
    }

    private ushort Grey(int red, int green, int blue, int greatest) =>
        meaning == ColourMeaning.Light ? Luminance.OfLight(red, green, blue, greatest) : Luminance.Of(red, green, blue);

    private ushort Sample(ReadOnlySpan<byte> pixel, int channel) =>
        header.Depth == 8 ? pixel[channel] : BinaryPrimitives.ReadUInt16BigEndian(pixel[(2 * channel)..]);

    private bool UnpackBits(ReadOnlySpan<byte> row, Span<ushort> greys)
    {
        var mask = (1 << header.Depth) - 1;
        for (var i = 0; i < greys.Length; i++)
        {
            var bit = i * header.Depth;
            var value = (row[bit / 8] >> (8 - header.Depth - (bit % 8))) & mask;
            if (header.HasPalette && value >= paletteGreys.Length)
            {
                return false;
            }

            greys[i] = header.HasPalette ? paletteGreys[value] : (ushort)value;
        }

        AnyColour |= header.HasPalette && paletteHasColour;
        return true;
    }
}
