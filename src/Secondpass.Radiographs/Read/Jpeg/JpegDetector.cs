namespace Secondpass.Radiographs.Read.Jpeg;

/// <summary>Knows a JPEG file by its start mark and the mark that must follow it (ITU-T T.81, B.1.1.3).</summary>
internal static class JpegDetector
{
    /// <summary>Whether the bytes begin as a JPEG file does.</summary>
    public static bool Recognises(ReadOnlySpan<byte> file) => file.Length >= 3 && file[0] == 0xFF && file[1] == 0xD8 && file[2] == 0xFF;
}
