using System.Buffers.Binary;

namespace Secondpass.Radiographs.Read.Dicom;

/// <summary>Knows a DICOM file by the mark after its preamble (DICOM PS3.10, 7.1), and one that lost its preamble by its first element.</summary>
internal static class DicomDetector
{
    // Bytes of the preamble before the mark.
    private const int PreambleLength = 128;

    private static ReadOnlySpan<byte> Mark => "DICM"u8;

    /// <summary>Whether the bytes begin with a preamble and the mark.</summary>
    public static bool HasPreamble(ReadOnlySpan<byte> file) => file.Length >= PreambleLength + Mark.Length && file[PreambleLength..].StartsWith(Mark);

    /// <summary>The first byte behind preamble and mark, or behind a mark that lost its preamble; 0 when there is no mark.</summary>
    public static int ElementsAt(ReadOnlySpan<byte> file) => HasPreamble(file) ? PreambleLength + Mark.Length : file.StartsWith(Mark) ? Mark.Length : 0;

    /// <summary>Whether the bytes begin with the mark, or an element of group 2 or 8, as files do whose preamble was cut off.</summary>
    public static bool BeginsWithoutPreamble(ReadOnlySpan<byte> file) => BeginsWithElement(file) || (file.StartsWith(Mark) && BeginsWithElement(file[Mark.Length..]));

    private static bool BeginsWithElement(ReadOnlySpan<byte> file)
    {
        if (file.Length < 16)
        {
            return false;
        }

        var group = BinaryPrimitives.ReadUInt16LittleEndian(file);
        var element = BinaryPrimitives.ReadUInt16LittleEndian(file[2..]);
        var isFirstOfGroup = group switch { 2 => element <= 0x0102, 8 => element <= 0x0018, _ => false };
        return isFirstOfGroup && (DicomCursor.IsKnownRepresentation(file[4], file[5])
            || (group == 8 && BinaryPrimitives.ReadUInt32LittleEndian(file[4..]) <= 256));
    }
}
