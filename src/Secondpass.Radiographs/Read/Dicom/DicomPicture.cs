using Secondpass.Domain;

namespace Secondpass.Radiographs.Read.Dicom;

/// <summary>How the pixels of a DICOM film are stored (DICOM PS3.3, C.7.6.3).</summary>
/// <param name="Width">Columns.</param>
/// <param name="Height">Rows.</param>
/// <param name="Colour">What the values of a pixel mean.</param>
/// <param name="IsPlanar">Whether all red values come before all green ones.</param>
/// <param name="LargerIsDarker">Whether the file's smallest value is to be shown white.</param>
/// <param name="BytesPerValue">1 or 2.</param>
/// <param name="Stored">Bits of a value.</param>
/// <param name="Shift">Bits below the value.</param>
/// <param name="IsSigned">Whether values are two's complement.</param>
internal sealed record DicomPicture(int Width, int Height, DicomColour Colour, bool IsPlanar, bool LargerIsDarker, int BytesPerValue, int Stored, int Shift, bool IsSigned)
{
    /// <summary>The colour kind of a film of one value a pixel that states none.</summary>
    private const string AssumedKind = "MONOCHROME2";

    /// <summary>The greatest value, after signed values were raised by half the range.</summary>
    public int GreatestValue => (1 << Stored) - 1;

    /// <summary>What was added to signed values: half the range; 0 for unsigned ones.</summary>
    public int Raised => IsSigned ? 1 << (Stored - 1) : 0;

    /// <summary>Whether each pixel has three values, once they are unpacked.</summary>
    public bool IsColour => Colour is DicomColour.Rgb or DicomColour.Differences or DicomColour.SharedDifferences;

    /// <summary>Values of one pixel, once they are unpacked.</summary>
    public int Channels => IsColour ? 3 : 1;

    /// <summary>Values of the whole picture, as they are stored.</summary>
    public int StoredCount => Width * Height * (Colour == DicomColour.SharedDifferences ? 2 : Channels);

    /// <summary>Bytes of the whole picture, as they are stored.</summary>
    public long Length => (long)StoredCount * BytesPerValue;

    /// <summary>The value in a cell, raised where it is signed: turning the sign bit round adds half the range to a two's complement value.</summary>
    public int Value(ushort cell) => ((cell >> Shift) & GreatestValue) ^ Raised;

    /// <summary>Reads the description and refuses what is not read.</summary>
    /// <param name="elements">The file's elements.</param>
    public static Answer<DicomPicture> From(DicomElements elements)
    {
        if (elements.Number(DicomTag.Rows) is not { } height || elements.Number(DicomTag.Columns) is not { } width
            || elements.Number(DicomTag.BitsAllocated) is not { } allocated)
        {
            return FilmRefusals.Damaged(DicomReader.Name, "its rows, columns or bits are missing");
        }

        // One value for each pixel can only be a grey; three may be any kind of colour.
        var channels = elements.Number(DicomTag.SamplesPerPixel) ?? 1;
        if ((elements.Text(DicomTag.PhotometricInterpretation) ?? (channels == 1 ? AssumedKind : null)) is not { } colour)
        {
            return FilmRefusals.Damaged(DicomReader.Name, "its colour kind is missing");
        }

        if (elements.Decimals(DicomTag.NumberOfFrames) is [> 1 and var frames, ..])
        {
            return FilmRefusals.SeveralFrames((long)Math.Min(frames, int.MaxValue));
        }

        DicomColour? kind = colour switch
        {
            "MONOCHROME1" or "MONOCHROME2" => DicomColour.Grey,
            "PALETTE COLOR" => DicomColour.Palette,
            "RGB" => DicomColour.Rgb,
            "YBR_FULL" => DicomColour.Differences,

            // A JPEG picture says itself which of its colour differences are left out.
            "YBR_FULL_422" => elements.Syntax.Packing == PixelPacking.Jpeg ? DicomColour.Differences : DicomColour.SharedDifferences,
            _ => null,
        };
        if (kind is not { } known)
        {
            var shown = new string([.. colour.Where(character => char.IsAsciiLetterOrDigit(character) || character is '_' or ' ').Take(16)]);
            return FilmRefusals.Unsupported(DicomReader.Name, $"the colour kind “{shown}”");
        }

        var isGreyOrPalette = known is DicomColour.Grey or DicomColour.Palette;
        if (channels != (isGreyOrPalette ? 1 : 3))
        {
            return FilmRefusals.Damaged(DicomReader.Name, $"it states {channels} values for each pixel of kind {colour}");
        }

        // PS3.5, 8.2.2: runs hold whole channels. PS3.3, C.7.6.3.1.2: two pixels side by side share their colour differences.
        if (known == DicomColour.SharedDifferences && elements.Syntax.Packing == PixelPacking.Runs)
        {
            return FilmRefusals.Unsupported(DicomReader.Name, $"the colour kind “{colour}” packed in runs");
        }

        if (known == DicomColour.SharedDifferences && width % 2 != 0)
        {
            return FilmRefusals.Damaged(DicomReader.Name, $"its {width} columns are no pairs, which pixels of kind {colour} need");
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
            known,
            elements.Number(DicomTag.PlanarConfiguration) == 1,
            colour == "MONOCHROME1",
            allocated / 8,
            stored,
            highBit + 1 - stored,
            elements.Number(DicomTag.PixelRepresentation) == 1);
    }
}
