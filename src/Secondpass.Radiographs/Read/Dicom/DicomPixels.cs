using System.Buffers.Binary;
using System.Runtime.InteropServices;
using Secondpass.Domain;
using Secondpass.Radiographs.Read.Jpeg;

namespace Secondpass.Radiographs.Read.Dicom;

/// <summary>The pixels of a DICOM film as they stand in its cells, whatever they were packed with.</summary>
/// <param name="Cells">Cells row by row: of grey one for each pixel, of colour three, by pixel or by plane.</param>
/// <param name="IsPlanar">Whether all cells of one channel come before those of the next.</param>
/// <param name="HasLoss">Whether the packing changed values.</param>
/// <param name="IsCutOff">Whether the file ends before what it states, but behind its picture.</param>
internal sealed record DicomPixels(ushort[] Cells, bool IsPlanar, bool HasLoss, bool IsCutOff)
{
    /// <summary>Takes the pixels out of the file.</summary>
    /// <param name="elements">The file's elements.</param>
    /// <param name="picture">How its pixels are stored; its size has been checked.</param>
    public static Answer<DicomPixels> Unpack(DicomElements elements, DicomPicture picture)
    {
        var data = elements.Bytes(DicomTag.PixelData);
        if (elements.Syntax.Packing == PixelPacking.None)
        {
            return elements.HasPixelPieces
                ? FilmRefusals.Unsupported(DicomReader.Name, "compressed pixels without saying how they were compressed")
                : Plain(elements, picture, data.Span, elements.EndsEarly);
        }

        if (!elements.HasPixelPieces)
        {
            return FilmRefusals.Damaged(DicomReader.Name, "its picture does not come in the pieces that its encoding needs");
        }

        if (!DicomPieces.Join(data).TryGet(out var pieces, out var refusal))
        {
            return refusal;
        }

        switch (elements.Syntax.Packing)
        {
            case PixelPacking.Runs:
                return DicomRuns.Unpack(picture, pieces.Joined.Span).TryGet(out var cells, out refusal)
                    ? new DicomPixels(cells, true, false, pieces.IsCutOff)
                    : refusal;
            case PixelPacking.Jpeg:
                return FromJpeg(picture, pieces);
            default:
                return Plain(elements, picture, pieces.Joined.Span, pieces.IsCutOff);
        }
    }

    private static Answer<DicomPixels> Plain(DicomElements elements, DicomPicture picture, ReadOnlySpan<byte> data, bool isCutOff)
    {
        if (data.Length < picture.Length)
        {
            return FilmRefusals.Damaged(DicomReader.Name, $"its {picture.Width} × {picture.Height} pixels need {picture.Length} bytes and it holds {data.Length}");
        }

        var isBigEndian = elements.Syntax.Encoding.IsBigEndian;
        var cells = new ushort[picture.StoredCount];
        if (picture.BytesPerValue == 2)
        {
            MemoryMarshal.Cast<byte, ushort>(data)[..cells.Length].CopyTo(cells);
            if (isBigEndian == BitConverter.IsLittleEndian)
            {
                BinaryPrimitives.ReverseEndianness(cells, cells);
            }

            return Whole(picture, cells, isCutOff);
        }

        // Cells of one byte in words of two stand in the order of the words' bytes (PS3.5, 8.1.1 and Annex D).
        var other = isBigEndian && elements.Representation(DicomTag.PixelData) == "OW" ? 1 : 0;
        for (var i = 0; i < cells.Length; i++)
        {
            cells[i] = (i ^ other) < data.Length ? data[i ^ other] : (ushort)0;
        }

        return Whole(picture, cells, isCutOff);
    }

    // Y1 Y2 Cb Cr of two pixels beside each other become Y1 Cb Cr Y2 Cb Cr (PS3.3, C.7.6.3.1.2).
    private static DicomPixels Whole(DicomPicture picture, ushort[] cells, bool isCutOff)
    {
        if (picture.Colour != DicomColour.SharedDifferences)
        {
            return new DicomPixels(cells, picture.IsPlanar, false, isCutOff);
        }

        var whole = new ushort[picture.Width * picture.Height * picture.Channels];
        for (var (from, to) = (0, 0); from < cells.Length; from += 4, to += 6)
        {
            (whole[to], whole[to + 3]) = (cells[from], cells[from + 1]);
            whole[to + 1] = whole[to + 4] = cells[from + 2];
            whole[to + 2] = whole[to + 5] = cells[from + 3];
        }

        return new DicomPixels(whole, false, false, isCutOff);
    }

    private static Answer<DicomPixels> FromJpeg(DicomPicture picture, DicomPieces pieces)
    {
        // What it states is compared before anything of its size is allocated.
        if (!JpegSegments.Parse(pieces.Joined).TryGet(out var segments, out var refusal))
        {
            return OfJpegInside(refusal);
        }

        var frame = segments.Frame;
        if (frame.Width != picture.Width || frame.Height != picture.Height || frame.Components.Count != picture.Channels || frame.Precision > 8 * picture.BytesPerValue)
        {
            return FilmRefusals.Damaged(
                DicomReader.Name,
                $"it states {picture.Width} × {picture.Height} pixels of {picture.Channels} × {8 * picture.BytesPerValue} bits, and its JPEG picture has {frame.Width} × {frame.Height} of {frame.Components.Count} × {frame.Precision}");
        }

        if (!JpegDecoder.Decode(segments).TryGet(out var jpeg, out refusal))
        {
            return OfJpegInside(refusal);
        }

        return new DicomPixels(picture.IsColour ? jpeg.Together() : jpeg.Grey(), false, jpeg.HasLoss, pieces.IsCutOff);
    }

    private static Refusal OfJpegInside(Refusal refusal) =>
        refusal with { Reason = refusal.Reason.Replace("This JPEG file", "The JPEG picture in this DICOM file", StringComparison.Ordinal) };
}
