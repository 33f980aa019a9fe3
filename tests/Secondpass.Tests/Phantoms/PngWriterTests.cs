using System.Buffers.Binary;
using System.IO.Compression;
using Secondpass.Phantoms.Imaging;

namespace Secondpass.Tests.Phantoms;

public sealed class PngWriterTests
{
    // Layout after ISO/IEC 15948: the pixel data of an IDAT are undone by hand here.
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Every_grey_value_comes_back(bool eightBits)
    {
        var pixels = Enumerable.Range(0, 7 * 5).Select(i => (ushort)(i * i * 53 % (eightBits ? 256 : 65536))).ToArray();

        var file = PngWriter.Write(7, 5, pixels, eightBits);

        Assert.Equal([0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A], file[..8]);
        Assert.Equal((7, 5), (BinaryPrimitives.ReadInt32BigEndian(file.AsSpan(16)), BinaryPrimitives.ReadInt32BigEndian(file.AsSpan(20))));
        Assert.Equal((eightBits ? 8 : 16, 0), (file[24], file[25]));
        var length = BinaryPrimitives.ReadInt32BigEndian(file.AsSpan(33));
        Assert.Equal("IDAT"u8, file.AsSpan(37, 4));
        using var zlib = new ZLibStream(new MemoryStream(file, 41, length), CompressionMode.Decompress);
        using var raw = new MemoryStream();
        zlib.CopyTo(raw);
        Assert.Equal(pixels, Unfiltered(raw.ToArray(), 7, 5, eightBits));

        // CRC-32 of "IEND" without data, a constant of every PNG file.
        Assert.Equal([0xAE, 0x42, 0x60, 0x82], file[^4..]);
    }

    private static ushort[] Unfiltered(byte[] raw, int width, int height, bool eightBits)
    {
        var bytes = width * (eightBits ? 1 : 2);
        var above = new byte[bytes];
        var pixels = new List<ushort>();
        for (var row = 0; row < height; row++)
        {
            Assert.Equal(2, raw[row * (bytes + 1)]);
            for (var i = 0; i < bytes; i++)
            {
                above[i] = unchecked((byte)(above[i] + raw[(row * (bytes + 1)) + 1 + i]));
            }

            for (var column = 0; column < width; column++)
            {
                pixels.Add(eightBits ? above[column] : BinaryPrimitives.ReadUInt16BigEndian(above.AsSpan(2 * column)));
            }
        }

        return [.. pixels];
    }
}
