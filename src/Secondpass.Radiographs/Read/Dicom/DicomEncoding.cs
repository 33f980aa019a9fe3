using System.Buffers.Binary;

namespace Secondpass.Radiographs.Read.Dicom;

/// <summary>How data elements are written (DICOM PS3.5, Annex A).</summary>
/// <param name="IsExplicit">Whether elements name their value representation.</param>
/// <param name="IsBigEndian">Whether the first byte of a number is the highest one.</param>
internal readonly record struct DicomEncoding(bool IsExplicit, bool IsBigEndian)
{
    /// <summary>Implicit value representation, little endian: the default, and what stands inside elements of unknown representation (PS3.5, 6.2.2).</summary>
    public static DicomEncoding Implicit { get; } = new(false, false);

    /// <summary>Explicit value representation, little endian.</summary>
    public static DicomEncoding Explicit { get; } = new(true, false);

    /// <summary>A whole number of 16 bits at the front of bytes.</summary>
    public ushort Short(ReadOnlySpan<byte> bytes) =>
        IsBigEndian ? BinaryPrimitives.ReadUInt16BigEndian(bytes) : BinaryPrimitives.ReadUInt16LittleEndian(bytes);

    /// <summary>A whole number of 32 bits at the front of bytes.</summary>
    public uint Long(ReadOnlySpan<byte> bytes) =>
        IsBigEndian ? BinaryPrimitives.ReadUInt32BigEndian(bytes) : BinaryPrimitives.ReadUInt32LittleEndian(bytes);
}
