namespace Secondpass.Radiographs.Read.Png;

/// <summary>Knows a PNG file by its first eight bytes (ISO/IEC 15948, 5.2).</summary>
internal static class PngDetector
{
    /// <summary>The bytes that every PNG file begins with.</summary>
    public static ReadOnlySpan<byte> Signature => [0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A];

    /// <summary>Whether the bytes begin as a PNG file does.</summary>
    public static bool Recognises(ReadOnlySpan<byte> file) => file.StartsWith(Signature);
}
