using System.Buffers.Binary;
using System.Text;

namespace Secondpass.Tests.Radiographs.Read;

/// <summary>Writes DICOM files for tests, sound ones and faulty ones (DICOM PS3.5, PS3.10).</summary>
internal static class DicomFile
{
    public const string Implicit = "1.2.840.10008.1.2";
    public const string Explicit = "1.2.840.10008.1.2.1";

    /// <summary>A sound grey film of 64 × 64 pixels of 16 bits, of which 12 are used, whose value at (x, y) is 64 y + x, with elements added or replaced.</summary>
    public static byte[] Sound(params byte[][] changes) => Join(Elements(changes));

    /// <summary>The elements of <see cref="Sound"/> in order of their tags, explicit.</summary>
    public static byte[][] Elements(params byte[][] changes)
    {
        byte[][] usual =
        [
            Number(0x00280002, 1), Text(0x00280004, "CS", "MONOCHROME2"), Number(0x00280010, 64), Number(0x00280011, 64),
            Number(0x00280100, 16), Number(0x00280101, 12), Number(0x00280102, 11), Number(0x00280103, 0),
            Pixels(Enumerable.Range(0, 64 * 64).Select(value => (ushort)value)),
        ];
        return [.. usual.Where(element => !changes.Any(change => TagOf(change) == TagOf(element))).Concat(changes).OrderBy(TagOf)];
    }

    /// <summary>Preamble, mark, transfer syntax and elements.</summary>
    public static byte[] Join(byte[][] elements, string syntax = Explicit) =>
        [.. new byte[128], .. "DICM"u8, .. Text(0x00020010, "UI", syntax), .. elements.SelectMany(element => element)];

    /// <summary>Without an element.</summary>
    public static byte[] Without(uint tag) => Join([.. Elements().Where(element => TagOf(element) != tag)]);

    public static byte[] Number(uint tag, ushort value) => Element(tag, "US", [(byte)value, (byte)(value >> 8)]);

    public static byte[] Text(uint tag, string representation, string text) =>
        Element(tag, representation, Encoding.ASCII.GetBytes(text.Length % 2 == 0 ? text : text + (representation == "UI" ? "\0" : " ")));

    public static byte[] Pixels(IEnumerable<ushort> values) => Element(0x7FE00010, "OW", [.. values.SelectMany(value => new[] { (byte)value, (byte)(value >> 8) })]);

    /// <summary>An explicit element; representations of 32-bit length are known by their first letter and length.</summary>
    public static byte[] Element(uint tag, string representation, byte[] value)
    {
        var isLong = representation is "OB" or "OW" or "SQ" or "UN" or "UT";
        byte[] element = [.. Tag(tag), .. Encoding.ASCII.GetBytes(representation), .. new byte[isLong ? 6 : 2], .. value];
        if (isLong)
        {
            BinaryPrimitives.WriteInt32LittleEndian(element.AsSpan(8), value.Length);
        }
        else
        {
            BinaryPrimitives.WriteUInt16LittleEndian(element.AsSpan(6), (ushort)value.Length);
        }

        return element;
    }

    /// <summary>An element without representation, or an item, of any length.</summary>
    public static byte[] Bare(uint tag, uint length, params byte[] value)
    {
        byte[] element = [.. Tag(tag), 0, 0, 0, 0, .. value];
        BinaryPrimitives.WriteUInt32LittleEndian(element.AsSpan(4), length);
        return element;
    }

    /// <summary>A sequence of items of stated length, each given as the bytes of its elements.</summary>
    public static byte[] Sequence(uint tag, params byte[][] items) => Element(tag, "SQ", [.. items.SelectMany(item => Bare(0xFFFEE000, (uint)item.Length, item))]);

    /// <summary>An explicit element without its representation.</summary>
    public static byte[] ToImplicit(byte[] element)
    {
        var value = element.AsSpan(element[4] == 'O' ? 12 : 8).ToArray();
        return Bare(TagOf(element), (uint)value.Length, value);
    }

    private static byte[] Tag(uint tag) => [(byte)(tag >> 16), (byte)(tag >> 24), (byte)tag, (byte)(tag >> 8)];

    public static uint TagOf(byte[] element) =>
        ((uint)BinaryPrimitives.ReadUInt16LittleEndian(element) << 16) | BinaryPrimitives.ReadUInt16LittleEndian(element.AsSpan(2));
}
