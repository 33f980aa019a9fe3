using Secondpass.Domain;

namespace Secondpass.Radiographs.Read.Dicom;

/// <summary>How the pixels of a DICOM film are stored (DICOM PS3.3, C.7.6.3).</summary>
/// <param name="Width">Columns.</param>
/// <param name="Height">Rows.</param>
/// <param name="IsColour">Whether each pixel has three values.</param>
/// <param name="IsLumaAndDifferences">Whether these are a luma and two colour differences; else red, green and blue.</param>
/// <param name="IsPlanar">Whether all red values come before all green ones.</param>
/// <param name="LargerIsDarker">Whether the file's smallest value is to be shown white.</param>
/// <param name="BytesPerValue">1 or 2.</param>
/// <param name="Stored">Bits of a value.</param>
/// <param name="Shift">Bits below the value.</param>
/// <param name="IsSigned">Whether values are two's complement.</param>
internal sealed record DicomPicture(int Width, int Height, bool IsColour, bool IsLumaAndDifferences, bool IsPlanar, bool LargerIsDarker, int BytesPerValue, int Stored, int Shift, bool IsSigned)
{
    /// <summary>The greatest value, after signed values were raised by half the range.</summary>
    public int GreatestValue => (1 << Stored) - 1;

    /// <summary>What was added to signed values: half the range; 0 for unsigned ones.</summary>
    public int Raised => IsSigned ? 1 << (Stored - 1) : 0;

    /// <summary>Values of one pixel.</summary>
    public int Channels => IsColour ? 3 : 1;

    /// <summary>Bytes of the whole picture.</summary>
    public long Length => (long)Width * Height * Channels * BytesPerValue;

    /// <summary>The value in a cell, raised where it is signed: turning the sign bit round adds half the range to a two's complement value.</summary>
    public int Value(ushort cell) => ((cell >> Shift) & GreatestValue) ^ Raised;

    /// <summary>Reads the description and refuses what is not read.</summary>
    /// <param name="elements">The file's elements.</param>
    public static Answer<DicomPicture> From(DicomElements elements)
    {
        if (elements.Number(DicomTag.Rows) is not { } height || elements.Number(DicomTag.Columns) is not { } width
            || elements.Number(DicomTag.BitsAllocated) is not { } allocated || elements.Text(DicomTag.PhotometricInterpretation) is not { } colour)
        {
            return FilmRefusals.Damaged(DicomReader.Name, "its rows, columns, bits or colour kind are missing");
        }

        if (elements.Decimals(DicomTag.NumberOfFrames) is [> 1 and var frames, ..])
        {
            return FilmRefusals.SeveralFrames((long)Math.Min(frames, int.MaxValue));
        }

        var channels = elements.Number(DicomTag.SamplesPerPixel) ?? 1;

        // With half of the colour differences left out, unpacked pixels stand otherwise than three by three; in a JPEG picture that is seen there.
        var hasDifferences = colour == "YBR_FULL" || (colour == "YBR_FULL_422" && elements.Syntax.Packing == PixelPacking.Jpeg);
        var isColour = colour == "RGB" || hasDifferences;
        if (!(isColour || colour is "MONOCHROME1" or "MONOCHROME2"))
        {
            var shown = new string([.. colour.Where(character => char.IsAsciiLetterOrDigit(character) || character is '_' or ' ').Take(16)]);
            return FilmRefusals.Unsupported(DicomReader.Name, $"the colour kind “{shown}”");
        }

        if (channels != (isColour ? 3 : 1))
        {
            return FilmRefusals.Damaged(DicomReader.Name, $"it states {channels} values for each pixel of kind {colour}");
        }

        if (allocated is not (8 or 16))
        {
            return FilmRefusals.Unsupported(DicomReader.Name, $"{allocated} bits per value");
        }

        if (FilmLimits.Check(DicomReader.Name, width, height, channels * allocated / 8) is { } refusal)
        {
            return refusal;
        }

        var stored = elements.Number(DicomTag.BitsStored) ?? allocated;
        var highBit = elements.Number(DicomTag.HighBit) ?? stored - 1;
        if (stored < 1 || stored > allocated || highBit < stored - 1 || highBit >= allocated)
        {
            return FilmRefusals.Damaged(DicomReader.Name, $"{stored} bits up to bit {highBit} do not fit into {allocated}");
        }

        return new DicomPicture(
            width,
            height,
            isColour,
            hasDifferences,
            elements.Number(DicomTag.PlanarConfiguration) == 1,
            colour == "MONOCHROME1",
            allocated / 8,
            stored,
            highBit + 1 - stored,
            elements.Number(DicomTag.PixelRepresentation) == 1);
    }
}
