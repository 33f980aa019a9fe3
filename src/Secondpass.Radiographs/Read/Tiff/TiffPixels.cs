using System.Buffers.Binary;
using Secondpass.Domain;

namespace Secondpass.Radiographs.Read.Tiff;

/// <summary>The grey values of a TIFF picture, strip by strip or tile by tile.</summary>
internal sealed class TiffPixels
{
    private readonly TiffLayout layout;

    private TiffPixels(TiffLayout layout)
    {
        this.layout = layout;
        Values = new ushort[layout.Width * layout.Height];
    }

    /// <summary>Grey values, row by row from the top, larger is lighter.</summary>
    public ushort[] Values { get; }

    /// <summary>Whether any pixel was not grey.</summary>
    public bool AnyColour { get; private set; }

    /// <summary>Unpacks the picture.</summary>
    /// <param name="file">The whole file.</param>
    /// <param name="layout">How it is stored; its size and the places of its parts have been checked.</param>
    public static Answer<TiffPixels> Unpack(ReadOnlyMemory<byte> file, TiffLayout layout)
    {
        var pixels = new TiffPixels(layout);
        var block = new byte[layout.BlockWidth * layout.BlockHeight * layout.PixelBytes];
        for (var row = 0; row < layout.BlockRows; row++)
        {
            for (var column = 0; column < layout.BlockColumns; column++)
            {
                var number = (row * layout.BlockColumns) + column;
                var needed = layout.BlockWidth * layout.RowsOf(row) * layout.PixelBytes;
                if (TiffUnpacker.Unpack(layout.Compression, layout.Part(file, number), block) < needed)
                {
                    return FilmRefusals.Damaged(
                        TiffReader.Name,
                        $"part {number + 1} of {layout.BlockColumns * layout.BlockRows} of its picture can't be unpacked");
                }

                pixels.Place(block, column * layout.BlockWidth, row * layout.BlockHeight);
            }
        }

        return pixels;
    }

    private void Place(Span<byte> block, int left, int top)
    {
        var columns = Math.Min(layout.BlockWidth, layout.Width - left);
        var rows = Math.Min(layout.BlockHeight, layout.Height - top);
        var greatest = (1 << layout.Depth) - 1;
        for (var y = 0; y < rows; y++)
        {
            var row = block.Slice(y * layout.BlockWidth * layout.PixelBytes, layout.BlockWidth * layout.PixelBytes);
            if (layout.HasDifferences)
            {
                AddUp(row);
            }

            for (var x = 0; x < columns; x++)
            {
                var pixel = row.Slice(x * layout.PixelBytes, layout.PixelBytes);
                int value = Sample(pixel, 0);
                if (layout.IsColour)
                {
                    var (green, blue) = (Sample(pixel, 1), Sample(pixel, 2));
                    AnyColour |= value != green || green != blue;
                    value = Luminance.Of(value, green, blue);
                }

                Values[((top + y) * layout.Width) + left + x] = (ushort)(layout.WhiteIsZero ? greatest - value : value);
            }
        }
    }

    // TIFF 6.0, section 14: each sample was stored as its difference from the one a pixel before.
    private void AddUp(Span<byte> row)
    {
        var (step, bytes) = (layout.PixelBytes, layout.Depth / 8);
        for (var i = step; i < row.Length; i += bytes)
        {
            if (bytes == 1)
            {
                row[i] += row[i - step];
                continue;
            }

            var sum = (ushort)(Sample(row[i..], 0) + Sample(row[(i - step)..], 0));
            if (layout.IsBigEndian)
            {
                BinaryPrimitives.WriteUInt16BigEndian(row[i..], sum);
            }
            else
            {
                BinaryPrimitives.WriteUInt16LittleEndian(row[i..], sum);
            }
        }
    }

    private ushort Sample(ReadOnlySpan<byte> pixel, int channel) =>
        layout.Depth == 8 ? pixel[channel]
        : layout.IsBigEndian ? BinaryPrimitives.ReadUInt16BigEndian(pixel[(2 * channel)..])
        : BinaryPrimitives.ReadUInt16LittleEndian(pixel[(2 * channel)..]);
}
