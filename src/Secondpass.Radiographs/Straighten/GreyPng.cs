using System.Buffers.Binary;
using System.IO.Compression;
using System.Text;
using Secondpass.Radiographs.Read.Png;

namespace Secondpass.Radiographs.Straighten;

/// <summary>Writes a grey picture of 16 bits as a PNG file (ISO/IEC 15948) with its pixel size and a text.</summary>
internal static class GreyPng
{
    /// <summary>Writes it.</summary>
    /// <param name="width">Columns.</param>
    /// <param name="pixels">Grey values, row by row from the top.</param>
    /// <param name="pixelsPerMetre">Its scale, alike both ways.</param>
    /// <param name="text">Keyword, zero and text of a tEXt block.</param>
    /// <returns>The bytes of the file.</returns>
    public static byte[] Write(int width, ushort[] pixels, int pixelsPerMetre, byte[] text)
    {
        using var file = new MemoryStream();
        file.Write(PngDetector.Signature);
        var header = new byte[13];
        BinaryPrimitives.WriteInt32BigEndian(header, width);
        BinaryPrimitives.WriteInt32BigEndian(header.AsSpan(4), pixels.Length / width);
        header[8] = 16;
        Block(file, "IHDR", header);
        var size = new byte[9];
        BinaryPrimitives.WriteInt32BigEndian(size, pixelsPerMetre);
        BinaryPrimitives.WriteInt32BigEndian(size.AsSpan(4), pixelsPerMetre);
        size[8] = 1;
        Block(file, "pHYs", size);
        Block(file, "tEXt", text);
        Block(file, "IDAT", Packed(width, pixels));
        Block(file, "IEND", []);
        return file.ToArray();
    }

    private static byte[] Packed(int width, ushort[] pixels)
    {
        using var packed = new MemoryStream();
        using (var deflate = new ZLibStream(packed, CompressionLevel.Fastest, leaveOpen: true))
        {
            // Each row begins with its filter: 0, none.
            var row = new byte[1 + (2 * width)];
            for (var start = 0; start < pixels.Length; start += width)
            {
                for (var x = 0; x < width; x++)
                {
                    BinaryPrimitives.WriteUInt16BigEndian(row.AsSpan(1 + (2 * x)), pixels[start + x]);
                }

                deflate.Write(row);
            }
        }

        return packed.ToArray();
    }

    private static void Block(MemoryStream file, string type, byte[] content)
    {
        Span<byte> number = stackalloc byte[4];
        BinaryPrimitives.WriteInt32BigEndian(number, content.Length);
        file.Write(number);
        byte[] summed = [.. Encoding.ASCII.GetBytes(type), .. content];
        file.Write(summed);
        BinaryPrimitives.WriteUInt32BigEndian(number, PngChunks.Checksum(summed));
        file.Write(number);
    }
}
