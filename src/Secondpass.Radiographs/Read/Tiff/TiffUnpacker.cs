using System.IO.Compression;

namespace Secondpass.Radiographs.Read.Tiff;

/// <summary>Unpacks one strip or tile (TIFF 6.0, sections 9 and 13, and Supplement 2 for deflate).</summary>
internal static class TiffUnpacker
{
    /// <summary>Numbers of the compressions that are read.</summary>
    public const int None = 1, Lzw = 5, Deflate = 8, OldDeflate = 32946, PackBits = 32773;

    /// <summary>Unpacks.</summary>
    /// <param name="compression">One of the numbers above.</param>
    /// <param name="packed">The stored bytes.</param>
    /// <param name="block">Where the unpacked bytes go; no more are unpacked than fit.</param>
    /// <returns>How many bytes there were, or −1 when the stored bytes are no sound code.</returns>
    public static int Unpack(int compression, ReadOnlyMemory<byte> packed, Span<byte> block) => compression switch
    {
        Lzw => UnpackLzw(packed.Span, block),
        Deflate or OldDeflate => UnpackDeflate(packed, block),
        PackBits => UnpackPackBits(packed.Span, block),
        _ => Copy(packed.Span, block),
    };

    private static int Copy(ReadOnlySpan<byte> packed, Span<byte> block)
    {
        var count = Math.Min(packed.Length, block.Length);
        packed[..count].CopyTo(block);
        return count;
    }

    private static int UnpackDeflate(ReadOnlyMemory<byte> packed, Span<byte> block)
    {
        try
        {
            using var stream = new MemoryStream(packed.ToArray(), writable: false);
            using var unpacked = new ZLibStream(stream, CompressionMode.Decompress);
            var count = unpacked.ReadAtLeast(block, block.Length, throwOnEndOfStream: false);

            // Reading to the end makes the stream check its checksum.
            return unpacked.ReadByte() < 0 ? count : -1;
        }
        catch (Exception fault) when (fault is InvalidDataException or IOException)
        {
            // No sound code; or one that needs a dictionary beside the file, which comes as the other kind.
            return -1;
        }
    }

    private static int UnpackPackBits(ReadOnlySpan<byte> packed, Span<byte> block)
    {
        var (from, to) = (0, 0);
        while (from < packed.Length && to < block.Length)
        {
            int count = (sbyte)packed[from++];
            if (count == sbyte.MinValue)
            {
                continue;
            }

            var isRun = count < 0;
            count = 1 + Math.Abs(count);
            if (from + (isRun ? 1 : count) > packed.Length || to + count > block.Length)
            {
                return -1;
            }

            if (isRun)
            {
                block.Slice(to, count).Fill(packed[from++]);
            }
            else
            {
                packed.Slice(from, count).CopyTo(block[to..]);
                from += count;
            }

            to += count;
        }

        return to;
    }

    // Codes of 9 to 12 bits, first bit first; the width grows one code early.
    private static int UnpackLzw(ReadOnlySpan<byte> packed, Span<byte> block)
    {
        const int clear = 256, end = 257, firstFree = 258, tableSize = 4096;
        Span<int> startOf = stackalloc int[tableSize];
        Span<int> lengthOf = stackalloc int[tableSize];
        var (bits, available, from, to) = (0u, 0, 0, 0);
        var (width, next, last) = (9, firstFree, -1);
        while (to < block.Length)
        {
            while (available < width && from < packed.Length)
            {
                bits = (bits << 8) | packed[from++];
                available += 8;
            }

            if (available < width)
            {
                return to;
            }

            available -= width;
            var code = (int)(bits >> available) & ((1 << width) - 1);
            if (code == end)
            {
                return to;
            }

            if (code == clear)
            {
                (width, next, last) = (9, firstFree, -1);
                continue;
            }

            // A table entry is the last string and the byte after it: both already stand in the block, one after the other.
            if (last >= 0 && next < tableSize)
            {
                startOf[next] = last;
                lengthOf[next] = to - last + 1;
                next++;
            }

            if (code >= next)
            {
                return -1;
            }

            last = to;
            if (code < clear)
            {
                block[to++] = (byte)code;
            }
            else
            {
                for (var (i, count) = (startOf[code], Math.Min(lengthOf[code], block.Length - to)); count > 0; i++, count--)
                {
                    block[to++] = block[i];
                }
            }

            if (next + 1 >= 1 << width && width < 12)
            {
                width++;
            }
        }

        return to;
    }
}
