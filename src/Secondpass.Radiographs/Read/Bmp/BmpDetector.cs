using System.Buffers.Binary;

namespace Secondpass.Radiographs.Read.Bmp;

/// <summary>Knows a BMP file by its two letters and a header of a length that exists.</summary>
internal static class BmpDetector
{
    /// <summary>Whether the bytes begin as a BMP file does.</summary>
    public static bool Recognises(ReadOnlySpan<byte> file) =>
        file.Length >= BmpHeader.FileHeaderLength + 4
        && file.StartsWith("BM"u8)
        && BinaryPrimitives.ReadUInt32LittleEndian(file[BmpHeader.FileHeaderLength..]) is 12 or 16 or 40 or 52 or 56 or 64 or 108 or 124;
}
