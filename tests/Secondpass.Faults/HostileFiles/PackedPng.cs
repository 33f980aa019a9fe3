using System.Buffers.Binary;
using System.IO.Compression;

namespace Secondpass.Faults.HostileFiles;

/// <summary>A PNG file of nothing but zeros, packed as tightly as can be.</summary>
internal static class PackedPng
{
    /// <summary>The file.</summary>
    public static byte[] Of(int width, int height)
    {
        using var packed = new MemoryStream();
        using (var deflate = new ZLibStream(packed, CompressionLevel.SmallestSize, leaveOpen: true))
        {
            var row = new byte[1 + width];
            for (var y = 0; y < height; y++)
            {
                deflate.Write(row);
            }
        }

        var header = new byte[13];
        BinaryPrimitives.WriteInt32BigEndian(header, width);
        BinaryPrimitives.WriteInt32BigEndian(header.AsSpan(4), height);
        header[8] = 8;
        byte[] file = [0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A, .. Block("IHDR"u8, header), .. Block("IDAT"u8, packed.ToArray()), .. Block("IEND"u8, [])];
        Mutation.MendChecksums(file);
        return file;
    }

    private static byte[] Block(ReadOnlySpan<byte> type, ReadOnlySpan<byte> content)
    {
        var length = new byte[4];
        BinaryPrimitives.WriteInt32BigEndian(length, content.Length);
        return [.. length, .. type, .. content, 0, 0, 0, 0];
    }
}
