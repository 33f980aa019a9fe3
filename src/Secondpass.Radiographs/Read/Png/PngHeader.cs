using System.Buffers.Binary;
using Secondpass.Domain;

namespace Secondpass.Radiographs.Read.Png;

/// <summary>How the pixels of a PNG file are stored: its IHDR block (ISO/IEC 15948, 11.2.2).</summary>
/// <param name="Width">Columns.</param>
/// <param name="Height">Rows.</param>
/// <param name="Depth">Bits of one sample: 1, 2, 4, 8 or 16.</param>
/// <param name="ColourType">0 grey, 2 colour, 3 palette, 4 grey and alpha, 6 colour and alpha.</param>
/// <param name="Interlaced">Whether the rows come in the seven passes of Adam7.</param>
internal readonly record struct PngHeader(int Width, int Height, int Depth, int ColourType, bool Interlaced)
{
    /// <summary>The length of the block in bytes.</summary>
    public const int Length = 13;

    /// <summary>Samples of one pixel.</summary>
    public int Channels => ColourType switch { 2 => 3, 4 => 2, 6 => 4, _ => 1 };

    /// <summary>Whether the last sample of a pixel is its opacity.</summary>
    public bool HasAlpha => ColourType is 4 or 6;

    /// <summary>Whether pixels are numbers of palette entries.</summary>
    public bool HasPalette => ColourType == 3;

    /// <summary>The greatest grey value: of the samples, or of the palette's eight bits.</summary>
    public int GreatestValue => HasPalette ? byte.MaxValue : (1 << Depth) - 1;

    /// <summary>Reads the block.</summary>
    /// <param name="block">Its 13 bytes.</param>
    public static Answer<PngHeader> Parse(ReadOnlySpan<byte> block)
    {
        var width = BinaryPrimitives.ReadUInt32BigEndian(block);
        var height = BinaryPrimitives.ReadUInt32BigEndian(block[4..]);
        int depth = block[8];
        int colourType = block[9];
        var depthFits = colourType switch
        {
            0 => depth is 1 or 2 or 4 or 8 or 16,
            3 => depth is 1 or 2 or 4 or 8,
            2 or 4 or 6 => depth is 8 or 16,
            _ => false,
        };
        if (!depthFits)
        {
            return FilmRefusals.Damaged(PngReader.Name, $"colour type {colourType} with {depth} bits does not exist");
        }

        if (block[10] != 0 || block[11] != 0 || block[12] > 1)
        {
            return FilmRefusals.Damaged(PngReader.Name, $"its compression, filter or interlace method ({block[10]}, {block[11]}, {block[12]}) does not exist");
        }

        var channels = new PngHeader(0, 0, depth, colourType, false).Channels;
        if (FilmLimits.Check(PngReader.Name, width, height, channels * Math.Max(1, depth / 8)) is { } refusal)
        {
            return refusal;
        }

        return new PngHeader((int)width, (int)height, depth, colourType, block[12] == 1);
    }

    /// <summary>The bytes of a row of so many pixels, without its filter byte.</summary>
    public int RowBytes(int pixels) => (int)((((long)pixels * Channels * Depth) + 7) / 8);
}
