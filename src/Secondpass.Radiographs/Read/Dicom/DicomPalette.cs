using Secondpass.Domain;

namespace Secondpass.Radiographs.Read.Dicom;

/// <summary>The colours that stored numbers stand for (DICOM PS3.3, C.7.9).</summary>
/// <param name="Red">The red of each number.</param>
/// <param name="Green">The green of each number.</param>
/// <param name="Blue">The blue of each number.</param>
internal sealed record DicomPalette(DicomTable Red, DicomTable Green, DicomTable Blue)
{
    /// <summary>The greatest grey value that comes out.</summary>
    public int GreatestValue => Red.GreatestOutput;

    /// <summary>Reads the three tables.</summary>
    /// <param name="elements">The file's elements.</param>
    /// <param name="isSigned">Whether the stored numbers may be negative.</param>
    public static Answer<DicomPalette> From(DicomElements elements, bool isSigned)
    {
        if (elements.Has(DicomTag.RedSegments) && !elements.Has(DicomTag.RedTable))
        {
            return FilmRefusals.Unsupported(DicomReader.Name, "a palette of colours written in segments");
        }

        var red = DicomTable.Read(elements, DicomTag.RedDescriptor, DicomTag.RedTable, isSigned);
        var green = DicomTable.Read(elements, DicomTag.GreenDescriptor, DicomTag.GreenTable, isSigned);
        var blue = DicomTable.Read(elements, DicomTag.BlueDescriptor, DicomTag.BlueTable, isSigned);
        if (red is null || green is null || blue is null)
        {
            return FilmRefusals.Damaged(DicomReader.Name, "its palette of colours is missing or not as long as it states");
        }

        return red.Bits == green.Bits && red.Bits == blue.Bits
            ? new DicomPalette(red, green, blue)
            : FilmRefusals.Damaged(DicomReader.Name, $"its palette states colours of {red.Bits}, {green.Bits} and {blue.Bits} bits");
    }

    /// <summary>Changes stored cells into grey values, in place.</summary>
    /// <param name="picture">How the cells are stored.</param>
    /// <param name="cells">One for each pixel.</param>
    /// <returns>Whether any pixel was not grey.</returns>
    public bool Apply(DicomPicture picture, Span<ushort> cells)
    {
        var anyColour = false;
        foreach (ref var cell in cells)
        {
            var number = picture.Value(cell) - picture.Raised;
            var (red, green, blue) = (Red.Of(number), Green.Of(number), Blue.Of(number));
            anyColour |= red != green || green != blue;
            cell = Luminance.Of(red, green, blue);
        }

        return anyColour;
    }
}
