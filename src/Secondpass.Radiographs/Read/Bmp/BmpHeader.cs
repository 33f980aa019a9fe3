using System.Buffers.Binary;
using Secondpass.Domain;

namespace Secondpass.Radiographs.Read.Bmp;

/// <summary>The headers of a BMP file, as far as it is read here: BITMAPFILEHEADER, and BITMAPCOREHEADER or BITMAPINFOHEADER and its successors.</summary>
/// <param name="Width">Columns.</param>
/// <param name="Height">Rows.</param>
/// <param name="IsTopDown">Whether the first row stored is the top one; else the bottom one.</param>
/// <param name="Depth">Bits of a pixel: 1, 4, 8, 24 or 32.</param>
/// <param name="PixelsAt">Where the rows begin.</param>
/// <param name="PaletteAt">Where the palette begins.</param>
/// <param name="PaletteCount">How many colours it has.</param>
/// <param name="PaletteStep">Bytes of a colour in it.</param>
/// <param name="PixelsPerMetreX">Resolution along a row; 0 for none.</param>
/// <param name="PixelsPerMetreY">Resolution along a column; 0 for none.</param>
internal sealed record BmpHeader(
    int Width,
    int Height,
    bool IsTopDown,
    int Depth,
    int PixelsAt,
    int PaletteAt,
    int PaletteCount,
    int PaletteStep,
    int PixelsPerMetreX,
    int PixelsPerMetreY)
{
    /// <summary>Bytes of the file header, before the picture's own.</summary>
    public const int FileHeaderLength = 14;

    private const int OldHeaderLength = 12, InfoHeaderLength = 40;
    private const uint Uncompressed = 0, BitMasks = 3;

    /// <summary>Bytes of a stored row, filled up to whole words of four.</summary>
    public int RowBytes => ((Width * Depth) + 31) / 32 * 4;

    /// <summary>Whether pixels name colours of the palette.</summary>
    public bool HasPalette => Depth <= 8;

    /// <summary>Reads the headers and refuses what is not read.</summary>
    /// <param name="file">The whole file, which was recognised.</param>
    public static Answer<BmpHeader> Parse(ReadOnlySpan<byte> file)
    {
        var headerLength = BinaryPrimitives.ReadInt32LittleEndian(file[FileHeaderLength..]);
        if (headerLength is not OldHeaderLength && headerLength < InfoHeaderLength)
        {
            return FilmRefusals.Unsupported(BmpReader.Name, "a header of another system (OS/2)");
        }

        if (file.Length < FileHeaderLength + headerLength)
        {
            return FilmRefusals.Damaged(BmpReader.Name, $"it ends after {file.Length} bytes, within its header");
        }

        var header = file.Slice(FileHeaderLength, headerLength);
        var isOld = headerLength == OldHeaderLength;
        var width = isOld ? BinaryPrimitives.ReadUInt16LittleEndian(header[4..]) : BinaryPrimitives.ReadInt32LittleEndian(header[4..]);
        var height = isOld ? BinaryPrimitives.ReadUInt16LittleEndian(header[6..]) : (long)BinaryPrimitives.ReadInt32LittleEndian(header[8..]);
        int depth = BinaryPrimitives.ReadUInt16LittleEndian(header[(isOld ? 10 : 14)..]);
        if (depth is not (1 or 4 or 8 or 24 or 32))
        {
            return FilmRefusals.Unsupported(BmpReader.Name, $"{depth} bits per pixel");
        }

        if (Packing(file, header, isOld, depth) is { } packing)
        {
            return FilmRefusals.Unsupported(BmpReader.Name, packing);
        }

        if (FilmLimits.Check(BmpReader.Name, width, Math.Abs(height), (depth + 7) / 8) is { } refusal)
        {
            return refusal;
        }

        var read = new BmpHeader(
            width,
            (int)Math.Abs(height),
            height < 0,
            depth,
            (int)Math.Min(int.MaxValue, BinaryPrimitives.ReadUInt32LittleEndian(file[10..])),
            FileHeaderLength + headerLength,
            depth > 8 ? 0 : PaletteLength(header, isOld, depth),
            isOld ? 3 : 4,
            isOld ? 0 : BinaryPrimitives.ReadInt32LittleEndian(header[24..]),
            isOld ? 0 : BinaryPrimitives.ReadInt32LittleEndian(header[28..]));
        return read.Missing(file.Length) is { } missing ? FilmRefusals.Damaged(BmpReader.Name, missing) : read;
    }

    // What else than plain rows of blue, green, red it is; null when it is that.
    private static string? Packing(ReadOnlySpan<byte> file, ReadOnlySpan<byte> header, bool isOld, int depth)
    {
        var packing = isOld ? Uncompressed : BinaryPrimitives.ReadUInt32LittleEndian(header[16..]);
        if (packing == BitMasks && depth == 32)
        {
            // The masks follow the header, or stand in it where it is longer.
            var masks = file[(FileHeaderLength + InfoHeaderLength)..];
            return masks.Length >= 12
                && BinaryPrimitives.ReadUInt32LittleEndian(masks) == 0x00FF0000
                && BinaryPrimitives.ReadUInt32LittleEndian(masks[4..]) == 0x0000FF00
                && BinaryPrimitives.ReadUInt32LittleEndian(masks[8..]) == 0x000000FF
                    ? null
                    : "colours in unusual places";
        }

        return packing switch
        {
            Uncompressed => null,
            1 or 2 => "run-length compression",
            BitMasks => "colours in unusual places",
            4 => "JPEG inside",
            5 => "PNG inside",
            _ => $"a compression that is not known (number {packing})",
        };
    }

    private static int PaletteLength(ReadOnlySpan<byte> header, bool isOld, int depth)
    {
        var stated = isOld ? 0 : BinaryPrimitives.ReadUInt32LittleEndian(header[32..]);
        return stated == 0 || stated > 1 << depth ? 1 << depth : (int)stated;
    }

    private string? Missing(int fileLength)
    {
        if (PixelsAt < PaletteAt + (PaletteCount * PaletteStep))
        {
            return "its picture begins within its header";
        }

        var needed = (long)RowBytes * Height;
        return PixelsAt + needed > fileLength
            ? $"its {Width} × {Height} pixels need {needed} bytes and it holds {Math.Max(0, fileLength - PixelsAt)}"
            : null;
    }
}
