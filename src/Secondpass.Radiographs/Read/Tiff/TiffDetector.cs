namespace Secondpass.Radiographs.Read.Tiff;

/// <summary>Knows a TIFF file by its byte order and version (TIFF 6.0, section 2); 43 is its successor for files beyond 4 GB, which is known only to be refused by name.</summary>
internal static class TiffDetector
{
    /// <summary>Whether the bytes begin as a TIFF file does.</summary>
    public static bool Recognises(ReadOnlySpan<byte> file) =>
        file.StartsWith("II*\0"u8) || file.StartsWith("MM\0*"u8) || IsBig(file);

    /// <summary>Whether the bytes begin as a BigTIFF file does.</summary>
    public static bool IsBig(ReadOnlySpan<byte> file) => file.StartsWith("II+\0"u8) || file.StartsWith("MM\0+"u8);
}
