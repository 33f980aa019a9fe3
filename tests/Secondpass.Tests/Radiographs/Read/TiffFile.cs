using System.Buffers.Binary;

namespace Secondpass.Tests.Radiographs.Read;

/// <summary>Writes TIFF files of one uncompressed strip for tests, sound ones and faulty ones (TIFF 6.0).</summary>
internal static class TiffFile
{
    /// <summary>A field of one number of type SHORT (3) or LONG (4), of three equal SHORTs (count 3), or of one RATIONAL (5) given as its two parts.</summary>
    public readonly record struct Field(ushort Tag, ushort Type, uint Value, uint Denominator = 1, uint Count = 1);

    /// <summary>A sound grey film of 8 bits, 64 × 64, whose value at (x, y) is y + x, with fields added, replaced or, by type 0, left out.</summary>
    public static byte[] Sound(params Field[] changes) => Of(64, 64, [.. Enumerable.Range(0, 64 * 64).Select(i => (byte)((i / 64) + (i % 64)))], changes);

    /// <summary>A file of one strip.</summary>
    public static byte[] Of(uint width, uint height, byte[] picture, params Field[] changes)
    {
        Field[] usual =
        [
            new(256, 4, width), new(257, 4, height), new(258, 3, 8), new(259, 3, 1), new(262, 3, 1), new(273, 4, 8),
            new(277, 3, 1), new(278, 4, height), new(279, 4, (uint)picture.Length),
        ];
        Field[] fields =
        [
            .. usual.Where(field => !changes.Any(change => change.Tag == field.Tag))
                .Concat(changes.Where(change => change.Type != 0)).OrderBy(field => field.Tag),
        ];
        var directoryAt = 8 + picture.Length;
        var outsideAt = directoryAt + 2 + (12 * fields.Length) + 4;
        var file = new byte[outsideAt + (8 * fields.Length)];
        "II*\0"u8.CopyTo(file);
        BinaryPrimitives.WriteInt32LittleEndian(file.AsSpan(4), directoryAt);
        picture.CopyTo(file.AsSpan(8));
        BinaryPrimitives.WriteUInt16LittleEndian(file.AsSpan(directoryAt), (ushort)fields.Length);
        for (var i = 0; i < fields.Length; i++)
        {
            var entry = file.AsSpan(directoryAt + 2 + (12 * i));
            BinaryPrimitives.WriteUInt16LittleEndian(entry, fields[i].Tag);
            BinaryPrimitives.WriteUInt16LittleEndian(entry[2..], fields[i].Type);
            BinaryPrimitives.WriteUInt32LittleEndian(entry[4..], fields[i].Count);
            var isOutside = fields[i].Type == 5 || fields[i].Count > 1;
            BinaryPrimitives.WriteUInt32LittleEndian(entry[8..], isOutside ? (uint)(outsideAt + (8 * i)) : fields[i].Value);
            var repeated = fields[i].Value * (fields[i].Count > 1 ? 0x00010001u : 1);
            BinaryPrimitives.WriteUInt32LittleEndian(file.AsSpan(outsideAt + (8 * i)), repeated);
            BinaryPrimitives.WriteUInt32LittleEndian(file.AsSpan(outsideAt + (8 * i) + 4), fields[i].Count > 1 ? repeated : fields[i].Denominator);
        }

        return file;
    }
}
