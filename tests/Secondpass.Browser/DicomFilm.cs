using System.Buffers.Binary;
using System.Text;

namespace Secondpass.Browser;

/// <summary>A plain DICOM film of 16 bits (DICOM PS3.5, PS3.10), made for a test.</summary>
internal static class DicomFilm
{
    /// <summary>Writes it.</summary>
    /// <param name="width">Columns.</param>
    /// <param name="height">Rows.</param>
    /// <param name="valueAt">The value of a pixel by column and row.</param>
    /// <param name="curve">The shade of each value from 0 on, 0 to 255, that it asks to be shown with; null for none.</param>
    public static byte[] Of(int width, int height, Func<int, int, ushort> valueAt, byte[]? curve = null)
    {
        var pixels = new byte[2 * width * height];
        for (var i = 0; i < width * height; i++)
        {
            BinaryPrimitives.WriteUInt16LittleEndian(pixels.AsSpan(2 * i), valueAt(i % width, i / width));
        }

        byte[] table = curve is null ? [] : [.. Short(0x00283002, "US", [.. Number((ushort)curve.Length), 0, 0, 8, 0]), .. Long(0x00283006, "OW", [.. curve.SelectMany(shade => new byte[] { shade, 0 })])];
        byte[] item = [0xFE, 0xFF, 0x00, 0xE0, .. BitConverter.GetBytes(table.Length), .. table];
        return
        [
            .. new byte[128], .. "DICM"u8,
            .. Short(0x00020010, "UI", "1.2.840.10008.1.2.1\0"u8),
            .. Short(0x00181164, "DS", "0.03\\0.03 "u8),
            .. Short(0x00280002, "US", Number(1)),
            .. Short(0x00280004, "CS", "MONOCHROME2 "u8),
            .. Short(0x00280010, "US", Number((ushort)height)),
            .. Short(0x00280011, "US", Number((ushort)width)),
            .. Short(0x00280100, "US", Number(16)),
            .. Short(0x00280101, "US", Number(16)),
            .. Short(0x00280102, "US", Number(15)),
            .. Short(0x00280103, "US", Number(0)),
            .. curve is null ? [] : Long(0x00283010, "SQ", item),
            .. Long(0x7FE00010, "OW", pixels),
        ];
    }

    private static byte[] Number(ushort value) => [(byte)value, (byte)(value >> 8)];

    private static byte[] Short(uint tag, string representation, ReadOnlySpan<byte> value) =>
        [.. Head(tag, representation), .. Number((ushort)value.Length), .. value];

    private static byte[] Long(uint tag, string representation, ReadOnlySpan<byte> value) =>
        [.. Head(tag, representation), 0, 0, .. BitConverter.GetBytes(value.Length), .. value];

    private static byte[] Head(uint tag, string representation) => [(byte)(tag >> 16), (byte)(tag >> 24), (byte)tag, (byte)(tag >> 8), .. Encoding.ASCII.GetBytes(representation)];
}
