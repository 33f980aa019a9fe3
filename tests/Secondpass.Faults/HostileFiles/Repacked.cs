using System.Buffers.Binary;
using System.IO.Compression;

namespace Secondpass.Faults.HostileFiles;

/// <summary>Changes what is deflated inside a film and deflates it again, so that the change lies behind the unpacking.</summary>
internal static class Repacked
{
    private const int DicomHeaderAt = 132, FirstElementLength = 12;

    /// <summary>The film with other content; null when nothing in it is deflated.</summary>
    /// <param name="seed">The sound film.</param>
    /// <param name="change">What becomes of the unpacked content.</param>
    public static byte[]? Of(Seed seed, Func<byte[], byte[]> change) => seed.Kind switch
    {
        ".png" => Png(seed.Bytes, change),
        ".dcm" when seed.Name == "deflated.dcm" => Dicom(seed.Bytes, change),
        _ => null,
    };

    /// <summary>Where unpacked content says how long or of what kind something is: the beginnings of rows are not told apart from pixels, elements stand in front.</summary>
    public static IReadOnlyList<int> FieldsOf(Seed seed, byte[] content) =>
        [.. Enumerable.Range(0, Math.Max(1, seed.Kind == ".dcm" ? Math.Min(700, content.Length) : content.Length))];

    // PS3.10, 7.1: the first element says how long the first group is; what follows is deflated without a header (PS3.5, A.5).
    private static byte[] Dicom(byte[] file, Func<byte[], byte[]> change)
    {
        var begin = DicomHeaderAt + FirstElementLength + BinaryPrimitives.ReadInt32LittleEndian(file.AsSpan(DicomHeaderAt + 8));
        using var packed = new MemoryStream(file, begin, file.Length - begin);
        using var inflated = new DeflateStream(packed, CompressionMode.Decompress);
        var content = change(ReadAll(inflated));
        using var output = new MemoryStream();
        output.Write(file, 0, begin);
        using (var deflated = new DeflateStream(output, CompressionLevel.Fastest, leaveOpen: true))
        {
            deflated.Write(content);
        }

        return output.ToArray();
    }

    // ISO/IEC 15948, 11.2.4: all IDAT blocks together are one zlib stream.
    private static byte[] Png(byte[] file, Func<byte[], byte[]> change)
    {
        using var packed = new MemoryStream();
        var (first, last) = (0, 0);
        for (var at = 8; at + 12 <= file.Length;)
        {
            var length = BinaryPrimitives.ReadInt32BigEndian(file.AsSpan(at));
            if (file.AsSpan(at + 4, 4).SequenceEqual("IDAT"u8))
            {
                first = first == 0 ? at : first;
                last = at + 12 + length;
                packed.Write(file, at + 8, length);
            }

            at += 12 + length;
        }

        packed.Position = 0;
        using var inflated = new ZLibStream(packed, CompressionMode.Decompress);
        var content = change(ReadAll(inflated));
        using var output = new MemoryStream();
        using (var deflated = new ZLibStream(output, CompressionLevel.Fastest, leaveOpen: true))
        {
            deflated.Write(content);
        }

        var head = new byte[8];
        BinaryPrimitives.WriteInt32BigEndian(head, (int)output.Length);
        "IDAT"u8.CopyTo(head.AsSpan(4));
        byte[] repacked = [.. file[..first], .. head, .. output.ToArray(), 0, 0, 0, 0, .. file[last..]];
        Mutation.MendChecksums(repacked);
        return repacked;
    }

    private static byte[] ReadAll(Stream stream)
    {
        using var content = new MemoryStream();
        stream.CopyTo(content);
        return content.ToArray();
    }
}
