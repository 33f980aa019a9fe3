using System.Buffers.Binary;
using System.IO.Compression;
using Secondpass.Domain.Films;

namespace Secondpass.Phantoms.Imaging;

/// <summary>Writes films as grey PNG, 8 or 16 bits.</summary>
/// <remarks>ISO/IEC 15948 (PNG): signature, IHDR, IDAT with zlib data, IEND. Every row is filtered by the row above (filter type 2).</remarks>
public static class PngWriter
{
    private static readonly uint[] CrcTable = MakeCrcTable();

    /// <summary>The file's bytes.</summary>
    /// <param name="film">The film. Up to 255 grey values are written with 8 bits, more with 16; values are kept as they are.</param>
    public static byte[] Write(Radiograph film)
    {
        ArgumentNullException.ThrowIfNull(film);
        return Write(film.Width, film.Height, film.Pixels, film.GreatestValue <= 255);
    }

    /// <summary>The file's bytes.</summary>
    /// <param name="width">Columns.</param>
    /// <param name="height">Rows.</param>
    /// <param name="pixels">Grey values row by row.</param>
    /// <param name="eightBits">8 bits a pixel; else 16.</param>
    public static byte[] Write(int width, int height, ReadOnlySpan<ushort> pixels, bool eightBits)
    {
        using var file = new MemoryStream();
        file.Write([0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A]);
        Span<byte> header = stackalloc byte[13];
        BinaryPrimitives.WriteInt32BigEndian(header, width);
        BinaryPrimitives.WriteInt32BigEndian(header[4..], height);
        header[8] = (byte)(eightBits ? 8 : 16);
        WriteChunk(file, "IHDR"u8, header);
        using var packed = new MemoryStream();
        using (var zlib = new ZLibStream(packed, CompressionLevel.SmallestSize, leaveOpen: true))
        {
            var bytes = width * (eightBits ? 1 : 2);
            var (line, above, filtered) = (new byte[bytes], new byte[bytes], new byte[bytes + 1]);
            for (var row = 0; row < height; row++)
            {
                var values = pixels.Slice(row * width, width);
                for (var column = 0; column < width; column++)
                {
                    if (eightBits)
                    {
                        line[column] = (byte)values[column];
                    }
                    else
                    {
                        BinaryPrimitives.WriteUInt16BigEndian(line.AsSpan(2 * column), values[column]);
                    }
                }

                filtered[0] = 2;
                for (var i = 0; i < bytes; i++)
                {
                    filtered[i + 1] = unchecked((byte)(line[i] - above[i]));
                }

                zlib.Write(filtered);
                (line, above) = (above, line);
            }
        }

        WriteChunk(file, "IDAT"u8, packed.ToArray());
        WriteChunk(file, "IEND"u8, []);
        return file.ToArray();
    }

    private static void WriteChunk(MemoryStream file, ReadOnlySpan<byte> kind, ReadOnlySpan<byte> data)
    {
        Span<byte> number = stackalloc byte[4];
        BinaryPrimitives.WriteInt32BigEndian(number, data.Length);
        file.Write(number);
        file.Write(kind);
        file.Write(data);
        var crc = Crc(Crc(uint.MaxValue, kind), data) ^ uint.MaxValue;
        BinaryPrimitives.WriteUInt32BigEndian(number, crc);
        file.Write(number);
    }

    private static uint Crc(uint crc, ReadOnlySpan<byte> data)
    {
        foreach (var value in data)
        {
            crc = CrcTable[(crc ^ value) & 0xFF] ^ (crc >> 8);
        }

        return crc;
    }

    private static uint[] MakeCrcTable()
    {
        var table = new uint[256];
        for (var n = 0u; n < 256; n++)
        {
            var c = n;
            for (var k = 0; k < 8; k++)
            {
                c = (c & 1) != 0 ? 0xEDB88320 ^ (c >> 1) : c >> 1;
            }

            table[n] = c;
        }

        return table;
    }
}
