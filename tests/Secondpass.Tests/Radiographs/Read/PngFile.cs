using System.Buffers.Binary;
using System.IO.Compression;
using System.Text;

namespace Secondpass.Tests.Radiographs.Read;

/// <summary>Writes PNG files for tests, sound ones and faulty ones (ISO/IEC 15948).</summary>
internal static class PngFile
{
    private static readonly byte[] Signature = [0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A];

    /// <summary>A file of one picture.</summary>
    /// <param name="width">Columns.</param>
    /// <param name="height">Rows.</param>
    /// <param name="rows">The rows with their filter bytes, unpacked.</param>
    /// <param name="depth">Bits of a sample.</param>
    /// <param name="colourType">0 grey, 2 colour, 3 palette, 4 grey and alpha, 6 colour and alpha.</param>
    /// <param name="blocks">Blocks between the header and the picture.</param>
    public static byte[] Of(int width, int height, byte[] rows, int depth = 8, int colourType = 0, params byte[][] blocks) =>
        Join([Header(width, height, depth, colourType), .. blocks, Block("IDAT", Pack(rows)), Block("IEND", [])]);

    /// <summary>A grey film of 8 bits whose values run from 0 to 250.</summary>
    public static byte[] Sound(int width = 64, int height = 64, params byte[][] blocks) => Of(width, height, Rows(width, height), 8, 0, blocks);

    /// <summary>The rows of <see cref="Sound"/>.</summary>
    public static byte[] Rows(int width, int height)
    {
        var rows = new byte[height * (1 + width)];
        for (var i = 0; i < rows.Length; i++)
        {
            rows[i] = i % (1 + width) == 0 ? (byte)0 : (byte)(i % 251);
        }

        return rows;
    }

    /// <summary>Signature and blocks in order.</summary>
    public static byte[] Join(params byte[][] blocks) => [.. Signature, .. blocks.SelectMany(block => block)];

    /// <summary>The header block.</summary>
    public static byte[] Header(int width, int height, int depth = 8, int colourType = 0, int compression = 0, int filter = 0, int interlace = 0)
    {
        var content = new byte[13];
        BinaryPrimitives.WriteInt32BigEndian(content, width);
        BinaryPrimitives.WriteInt32BigEndian(content.AsSpan(4), height);
        content[8] = (byte)depth;
        content[9] = (byte)colourType;
        content[10] = (byte)compression;
        content[11] = (byte)filter;
        content[12] = (byte)interlace;
        return Block("IHDR", content);
    }

    /// <summary>A block with its length and checksum.</summary>
    public static byte[] Block(string type, byte[] content)
    {
        byte[] block = [0, 0, 0, 0, .. Encoding.ASCII.GetBytes(type), .. content, 0, 0, 0, 0];
        BinaryPrimitives.WriteInt32BigEndian(block, content.Length);
        BinaryPrimitives.WriteUInt32BigEndian(block.AsSpan(8 + content.Length), Checksum(block.AsSpan(4, 4 + content.Length)));
        return block;
    }

    /// <summary>A pHYs block.</summary>
    public static byte[] PhysicalSize(uint x, uint y, byte unit)
    {
        var content = new byte[9];
        BinaryPrimitives.WriteUInt32BigEndian(content, x);
        BinaryPrimitives.WriteUInt32BigEndian(content.AsSpan(4), y);
        content[8] = unit;
        return Block("pHYs", content);
    }

    /// <summary>Packs bytes with zlib.</summary>
    public static byte[] Pack(byte[] bytes)
    {
        using var packed = new MemoryStream();
        using (var deflate = new ZLibStream(packed, CompressionLevel.Fastest, leaveOpen: true))
        {
            deflate.Write(bytes);
        }

        return packed.ToArray();
    }

    private static uint Checksum(ReadOnlySpan<byte> bytes)
    {
        var sum = uint.MaxValue;
        foreach (var value in bytes)
        {
            sum ^= value;
            for (var bit = 0; bit < 8; bit++)
            {
                sum = (sum & 1) != 0 ? 0xEDB88320 ^ (sum >> 1) : sum >> 1;
            }
        }

        return ~sum;
    }
}
