using Secondpass.Domain;

namespace Secondpass.Radiographs.Read.Dicom;

/// <summary>The pieces (fragments) that packed pixels come in (DICOM PS3.5, A.4): a table of where frames begin, which may be empty, and then the pieces of the only frame.</summary>
/// <param name="Joined">All pieces one after the other.</param>
/// <param name="IsCutOff">Whether the end mark behind the last piece is missing.</param>
internal sealed record DicomPieces(ReadOnlyMemory<byte> Joined, bool IsCutOff)
{
    private const int OffsetLength = 4;

    /// <summary>Joins the pieces of one frame.</summary>
    /// <param name="pixelData">The value of the pixel data, from its first item on.</param>
    /// <returns>The pieces; or a refusal of several frames, or of pieces that reach beyond the end of the file.</returns>
    public static Answer<DicomPieces> Join(ReadOnlyMemory<byte> pixelData)
    {
        var pieces = new List<ReadOnlyMemory<byte>>();
        var isCutOff = true;
        var cursor = new DicomCursor(pixelData.Span, 0);
        while (cursor.Next(DicomEncoding.Explicit) is { } item)
        {
            if (item.Tag == DicomCursor.SequenceEnd)
            {
                isCutOff = false;
                break;
            }

            if (item.Tag != DicomCursor.Item || item.Length > cursor.Left)
            {
                return FilmRefusals.Damaged(DicomReader.Name, $"piece {pieces.Count} of its packed picture reaches beyond the end of the file or is none");
            }

            var start = cursor.Position;
            cursor.Skip(item, DicomEncoding.Explicit);
            pieces.Add(pixelData[start..cursor.Position]);
        }

        if (pieces.Count < 2)
        {
            return FilmRefusals.Damaged(DicomReader.Name, "its packed picture is missing");
        }

        if (pieces[0].Length / OffsetLength > 1)
        {
            return FilmRefusals.SeveralFrames(pieces[0].Length / OffsetLength);
        }

        return pieces.Count == 2 ? new DicomPieces(pieces[1], isCutOff) : new DicomPieces(Together(pieces), isCutOff);
    }

    private static byte[] Together(List<ReadOnlyMemory<byte>> pieces)
    {
        var joined = new byte[pieces.Skip(1).Sum(piece => piece.Length)];
        var at = 0;
        foreach (var piece in pieces.Skip(1))
        {
            piece.Span.CopyTo(joined.AsSpan(at));
            at += piece.Length;
        }

        return joined;
    }
}
