using System.Buffers.Binary;
using BitMiracle.LibTiff.Classic;
using Secondpass.Domain;

namespace Secondpass.Radiographs.Read.Tiff;

/// <summary>Unpacks the strips or tiles of a TIFF picture with LibTiff.NET, whose faults on damaged files become refusals here.</summary>
internal sealed class TiffPixels
{
    private readonly TiffLayout layout;

    // The library writes to the console unless told otherwise, once for the whole process.
    static TiffPixels() => BitMiracle.LibTiff.Classic.Tiff.SetErrorHandler(new Silence());

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
    /// <param name="layout">How it is stored; its size has been checked.</param>
    public static Answer<TiffPixels> Unpack(ReadOnlyMemory<byte> file, TiffLayout layout)
    {
        try
        {
            // "c": the library is not to cut large strips up as it likes.
            using var stream = new MemoryStream(file.ToArray(), writable: false);
            using var tiff = BitMiracle.LibTiff.Classic.Tiff.ClientOpen("film", "rc", stream, new TiffStream());
            if (tiff is null || !Agrees(tiff, layout))
            {
                return FilmRefusals.Damaged(TiffReader.Name, "its directory can't be read");
            }

            var pixels = new TiffPixels(layout);
            return pixels.UnpackBlocks(tiff) is { } what ? FilmRefusals.Damaged(TiffReader.Name, what) : pixels;
        }
        catch (Exception fault) when (fault is not OutOfMemoryException)
        {
            // Whatever the library throws on a damaged file, no more is known than that.
            return FilmRefusals.Damaged(TiffReader.Name, "its picture can't be unpacked");
        }
    }

    // The library reads the directory by itself; buffers are sized by ours, so both must have understood the same.
    private static bool Agrees(BitMiracle.LibTiff.Classic.Tiff tiff, TiffLayout layout) =>
        tiff.GetField(TiffTag.IMAGEWIDTH)?[0].ToInt() == layout.Width
        && tiff.GetField(TiffTag.IMAGELENGTH)?[0].ToInt() == layout.Height
        && tiff.IsTiled() == layout.IsTiled
        && (layout.IsTiled
            ? tiff.TileSize() == layout.BlockWidth * layout.BlockHeight * layout.PixelBytes && tiff.NumberOfTiles() == layout.BlockColumns * layout.BlockRows
            : tiff.ScanlineSize() == layout.Width * layout.PixelBytes && tiff.NumberOfStrips() == layout.BlockRows);

    private string? UnpackBlocks(BitMiracle.LibTiff.Classic.Tiff tiff)
    {
        var buffer = new byte[layout.BlockWidth * layout.BlockHeight * layout.PixelBytes];
        for (var row = 0; row < layout.BlockRows; row++)
        {
            for (var column = 0; column < layout.BlockColumns; column++)
            {
                var number = (row * layout.BlockColumns) + column;
                var length = layout.BlockWidth * layout.RowsOf(row) * layout.PixelBytes;
                var read = layout.IsTiled
                    ? tiff.ReadEncodedTile(number, buffer, 0, length)
                    : tiff.ReadEncodedStrip(number, buffer, 0, length);
                if (read != length)
                {
                    return $"part {number + 1} of {layout.BlockColumns * layout.BlockRows} of its picture can't be unpacked";
                }

                Place(buffer, column * layout.BlockWidth, row * layout.BlockHeight);
            }
        }

        return null;
    }

    private void Place(ReadOnlySpan<byte> block, int left, int top)
    {
        var columns = Math.Min(layout.BlockWidth, layout.Width - left);
        var rows = Math.Min(layout.BlockHeight, layout.Height - top);
        var greatest = (1 << layout.Depth) - 1;
        for (var y = 0; y < rows; y++)
        {
            for (var x = 0; x < columns; x++)
            {
                var pixel = block.Slice(((y * layout.BlockWidth) + x) * layout.PixelBytes, layout.PixelBytes);
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

    // The library has already brought 16-bit values into little-endian order.
    private ushort Sample(ReadOnlySpan<byte> pixel, int channel) =>
        layout.Depth == 8 ? pixel[channel] : BinaryPrimitives.ReadUInt16LittleEndian(pixel[(2 * channel)..]);

    private sealed class Silence : TiffErrorHandler
    {
        public override void ErrorHandler(BitMiracle.LibTiff.Classic.Tiff tif, string method, string format, params object[] args)
        {
        }

        public override void ErrorHandlerExt(BitMiracle.LibTiff.Classic.Tiff tif, object clientData, string method, string format, params object[] args)
        {
        }

        public override void WarningHandler(BitMiracle.LibTiff.Classic.Tiff tif, string method, string format, params object[] args)
        {
        }

        public override void WarningHandlerExt(BitMiracle.LibTiff.Classic.Tiff tif, object clientData, string method, string format, params object[] args)
        {
        }
    }
}
