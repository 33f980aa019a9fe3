using Secondpass.Domain;

namespace Secondpass.Radiographs.Read.Tiff;

/// <summary>How the pixels of a TIFF picture are stored, as far as it is read here (TIFF 6.0, sections 3 to 8, 14 and 15).</summary>
/// <param name="Directory">The picture's directory.</param>
/// <param name="Width">Columns.</param>
/// <param name="Height">Rows.</param>
/// <param name="Depth">Bits of one sample, 8 or 16.</param>
/// <param name="Channels">Samples of one pixel, extra ones included.</param>
/// <param name="IsColour">Whether the first three samples are red, green and blue.</param>
/// <param name="WhiteIsZero">Whether 0 is white.</param>
/// <param name="BlockWidth">Columns of one strip or tile.</param>
/// <param name="BlockHeight">Rows of one strip or tile.</param>
/// <param name="IsTiled">Whether the blocks are tiles: all of the same size, the last ones reaching beyond the picture.</param>
internal sealed record TiffLayout(
    TiffDirectory Directory,
    int Width,
    int Height,
    int Depth,
    int Channels,
    bool IsColour,
    bool WhiteIsZero,
    int BlockWidth,
    int BlockHeight,
    bool IsTiled)
{
    private const ushort WidthTag = 256, HeightTag = 257, DepthTag = 258, CompressionTag = 259, PhotometricTag = 262, FillOrderTag = 266, StripOffsetsTag = 273,
        ChannelsTag = 277, RowsPerStripTag = 278, StripLengthsTag = 279, PlanarTag = 284, PredictorTag = 317,
        TileWidthTag = 322, TileHeightTag = 323, TileOffsetsTag = 324, TileLengthsTag = 325, SampleFormatTag = 339;

    /// <summary>Columns of blocks.</summary>
    public int BlockColumns => (Width + BlockWidth - 1) / BlockWidth;

    /// <summary>Rows of blocks.</summary>
    public int BlockRows => (Height + BlockHeight - 1) / BlockHeight;

    /// <summary>Bytes of one pixel, unpacked.</summary>
    public int PixelBytes => Channels * Depth / 8;

    /// <summary>How the blocks are packed.</summary>
    public int Compression => (int)(Directory.Number(CompressionTag) ?? TiffUnpacker.None);

    /// <summary>Whether samples are stored as differences; only LZW and deflate have such a predictor.</summary>
    public bool HasDifferences =>
        Directory.Number(PredictorTag) == 2 && Compression is (TiffUnpacker.Lzw or TiffUnpacker.Deflate or TiffUnpacker.OldDeflate);

    /// <summary>Whether the first byte of a sample is the higher one.</summary>
    public bool IsBigEndian => Directory.IsBigEndian;

    private ushort OffsetsTag => IsTiled ? TileOffsetsTag : StripOffsetsTag;

    private ushort LengthsTag => IsTiled ? TileLengthsTag : StripLengthsTag;

    /// <summary>The stored bytes of a block.</summary>
    /// <param name="file">The whole file.</param>
    /// <param name="number">Which block, row by row.</param>
    public ReadOnlyMemory<byte> Part(ReadOnlyMemory<byte> file, int number) =>
        file.Slice((int)Directory.Number(OffsetsTag, number)!.Value, (int)Directory.Number(LengthsTag, number)!.Value);

    /// <summary>Rows that a row of blocks holds: the last strip is shorter.</summary>
    /// <param name="blockRow">Which row of blocks.</param>
    public int RowsOf(int blockRow) => IsTiled ? BlockHeight : Math.Min(BlockHeight, Height - (blockRow * BlockHeight));

    /// <summary>Reads the layout and refuses what is not read.</summary>
    /// <param name="directory">The picture's directory.</param>
    /// <param name="fileLength">Bytes of the whole file.</param>
    public static Answer<TiffLayout> From(TiffDirectory directory, int fileLength)
    {
        if (directory.Number(WidthTag) is not { } width || directory.Number(HeightTag) is not { } height
            || directory.Number(PhotometricTag) is not { } photometric)
        {
            return FilmRefusals.Damaged(TiffReader.Name, "its width, height or colour kind is missing");
        }

        var channels = directory.Number(ChannelsTag) ?? 1;
        if (Kind(directory, photometric, channels) is { } kind)
        {
            return FilmRefusals.Unsupported(TiffReader.Name, kind);
        }

        var depth = (int)directory.Number(DepthTag)!;
        if (FilmLimits.Check(TiffReader.Name, width, height, (int)channels * depth / 8) is { } refusal)
        {
            return refusal;
        }

        var isTiled = directory.Has(TileOffsetsTag);
        var blockWidth = isTiled ? directory.Number(TileWidthTag) : width;
        var blockHeight = isTiled ? directory.Number(TileHeightTag) : Math.Min(height, directory.Number(RowsPerStripTag) ?? height);
        if (blockWidth is not >= 1 || blockHeight is not >= 1)
        {
            return FilmRefusals.Damaged(TiffReader.Name, "the size of its strips or tiles is missing");
        }

        if (isTiled && FilmLimits.Check(TiffReader.Name, Math.Max(64, blockWidth.Value), Math.Max(64, blockHeight.Value), (int)channels * depth / 8) is { } tileRefusal)
        {
            return tileRefusal;
        }

        var layout = new TiffLayout(
            directory,
            (int)width,
            (int)height,
            depth,
            (int)channels,
            photometric == 2,
            photometric == 0,
            (int)blockWidth,
            (int)blockHeight,
            isTiled);
        return layout.Missing(fileLength) is { } missing ? FilmRefusals.Damaged(TiffReader.Name, missing) : layout;
    }

    private static string? Kind(TiffDirectory directory, long photometric, long channels)
    {
        var compression = directory.Number(CompressionTag) ?? TiffUnpacker.None;
        if (GreatestRatio(compression) == 0)
        {
            return CompressionName(compression);
        }

        if (photometric is not (0 or 1 or 2))
        {
            return photometric switch
            {
                3 => "a colour palette",
                5 => "printing colours (CMYK)",
                6 => "colour as YCbCr",
                8 => "colour as L*a*b*",
                _ => $"a kind of colour that is not known (number {photometric})",
            };
        }

        var firstChannels = photometric == 2 ? 3 : 1;
        if (channels < firstChannels || channels > firstChannels + 1)
        {
            return $"{channels} channels";
        }

        if (channels > 1 && (directory.Number(PlanarTag) ?? 1) != 1)
        {
            return "channels stored apart from each other";
        }

        var depth = directory.Number(DepthTag) ?? 1;
        if (depth is not (8 or 16))
        {
            return $"{depth} bits per value";
        }

        for (var i = 1; i < channels; i++)
        {
            if (directory.Number(DepthTag, i) != depth)
            {
                return "channels of different depth";
            }
        }

        for (var i = 0; i < directory.Count(SampleFormatTag); i++)
        {
            if (directory.Number(SampleFormatTag, i) is not (1 or 4))
            {
                return "signed or floating-point values";
            }
        }

        if ((directory.Number(FillOrderTag) ?? 1) != 1)
        {
            return "bytes whose bits are in reverse order";
        }

        return (directory.Number(PredictorTag) ?? 1) is 1 or 2 ? null : "a floating-point predictor";
    }

    // How many bytes one compressed byte can give at most; 0 for what is not read.
    // PackBits: two bytes give 128 (TIFF 6.0, section 9). LZW: a code of 12 bits gives at most 3838 bytes (section 13).
    private static int GreatestRatio(long compression) => compression switch
    {
        TiffUnpacker.None => 1,
        TiffUnpacker.Lzw => 2560,
        TiffUnpacker.Deflate or TiffUnpacker.OldDeflate => FilmLimits.GreatestDeflateRatio,
        TiffUnpacker.PackBits => 64,
        _ => 0,
    };

    private static string CompressionName(long compression) => compression switch
    {
        2 or 3 or 4 => "fax compression",
        6 or 7 => "JPEG compression",
        34712 => "JPEG 2000 compression",
        50000 => "Zstandard compression",
        _ => $"a compression that is not known (number {compression})",
    };

    private string? Missing(int fileLength)
    {
        var blocks = (long)BlockColumns * BlockRows;
        if (Directory.Count(OffsetsTag) != blocks || Directory.Count(LengthsTag) != blocks)
        {
            return $"it needs {blocks} parts and lists {Directory.Count(OffsetsTag)}";
        }

        var stored = 0L;
        for (var i = 0; i < blocks; i++)
        {
            if (Directory.Number(OffsetsTag, i) is not { } offset || Directory.Number(LengthsTag, i) is not { } length || offset + length > fileLength)
            {
                return $"part {i + 1} of {blocks} of its picture lies beyond the end of the file";
            }

            stored += length;
        }

        if (stored > fileLength)
        {
            return "the parts of its picture lie over each other";
        }

        var needed = (long)Width * Height * PixelBytes;
        return stored * GreatestRatio(Compression) < needed
            ? $"it states {Width} × {Height} pixels, which its {stored} bytes of picture can't hold"
            : null;
    }
}
