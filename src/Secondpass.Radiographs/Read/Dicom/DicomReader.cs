using Secondpass.Domain;

namespace Secondpass.Radiographs.Read.Dicom;

/// <summary>Reads DICOM files of one picture. See README.md beside this file.</summary>
internal static class DicomReader
{
    /// <summary>The format's name in messages.</summary>
    public const string Name = "DICOM";

    private const string DirectoryClass = "1.2.840.10008.1.3.10";

    /// <summary>Reads the film.</summary>
    /// <param name="file">The whole file.</param>
    public static Answer<DecodedFilm> Read(ReadOnlyMemory<byte> file)
    {
        if (!DicomElements.Parse(file).TryGet(out var elements, out var refusal))
        {
            return refusal;
        }

        if (!elements.Has(DicomTag.PixelData))
        {
            return NoPicture(elements);
        }

        if (!DicomPicture.From(elements).TryGet(out var picture, out refusal))
        {
            return refusal;
        }

        if (!DicomPixels.Unpack(elements, picture).TryGet(out var stored, out refusal))
        {
            return refusal;
        }

        var notices = new List<string>();
        NoticeFile(file.Span, elements, stored, notices);
        var rescale = DicomRescale.From(elements, notices);
        var invert = !picture.IsColour && picture.LargerIsDarker != rescale.IsFalling;
        var pixels = picture.IsColour ? Colour(picture, stored, notices) : Grey(picture, stored, invert);
        var window = picture.IsColour ? null : DicomWindow.Choose(elements, picture, rescale, invert);
        return new DecodedFilm(picture.Width, picture.Height, pixels, picture.GreatestValue, DicomSpacing.Choose(elements, notices), window, notices);
    }

    private static Refusal NoPicture(DicomElements elements)
    {
        if (elements.Has(DicomTag.FloatPixelData) || elements.Has(DicomTag.DoublePixelData))
        {
            return FilmRefusals.Unsupported(Name, "floating-point pixels");
        }

        return elements.Text(DicomTag.MediaStorageClass) == DirectoryClass
            ? FilmRefusals.NoPicture("is the index of a disc or folder (DICOMDIR) and holds no picture", "Choose the film files that it lists; they stand in the folders beside it.")
            : FilmRefusals.NoPicture("holds no picture", "Choose the file of the film itself; reports, settings and documents are DICOM files too.");
    }

    private static void NoticeFile(ReadOnlySpan<byte> file, DicomElements elements, DicomPixels stored, List<string> notices)
    {
        AddWhen(!DicomDetector.HasPreamble(file), FilmNotices.NoPreamble);
        AddWhen(elements.IsGuessed, FilmNotices.TransferSyntaxGuessed);
        AddWhen(elements.IsIrregular, FilmNotices.IrregularElements);
        AddWhen(stored.IsCutOff, FilmNotices.CutOff);
        AddWhen(stored.HasLoss || elements.Text(DicomTag.LossyCompression) == "01", FilmNotices.LossyCompression);
        AddWhen(elements.Has(DicomTag.ModalityTable), FilmNotices.GreyTableNotApplied);
        AddWhen(elements.Has(DicomTag.WindowTable), FilmNotices.ShownTableNotApplied);
        AddWhen(
            elements.Text(DicomTag.PresentationShape) == "INVERSE" && elements.Text(DicomTag.PhotometricInterpretation) == "MONOCHROME2",
            FilmNotices.InverseShapeIgnored);

        void AddWhen(bool holds, string notice)
        {
            if (holds)
            {
                notices.Add(notice);
            }
        }
    }

    private static ushort[] Grey(DicomPicture picture, DicomPixels stored, bool invert)
    {
        var pixels = stored.Cells;
        foreach (ref var pixel in pixels.AsSpan())
        {
            var value = Value(picture, pixel);
            pixel = (ushort)(invert ? picture.GreatestValue - value : value);
        }

        return pixels;
    }

    private static ushort[] Colour(DicomPicture picture, DicomPixels stored, List<string> notices)
    {
        var pixels = new ushort[picture.Width * picture.Height];
        var (pixelStep, channelStep) = stored.IsPlanar ? (1, pixels.Length) : (3, 1);
        var anyColour = false;
        for (var i = 0; i < pixels.Length; i++)
        {
            var red = Value(picture, stored.Cells[i * pixelStep]);
            var green = Value(picture, stored.Cells[(i * pixelStep) + channelStep]);
            var blue = Value(picture, stored.Cells[(i * pixelStep) + (2 * channelStep)]);
            if (picture.IsLumaAndDifferences)
            {
                (red, green, blue) = Luminance.ToRgb(red, green, blue, picture.Stored);
            }

            anyColour |= red != green || green != blue;
            pixels[i] = Luminance.Of(red, green, blue);
        }

        notices.Add(Luminance.Notice(anyColour));
        return pixels;
    }

    // Turning the sign bit round adds half the range to a two's complement value.
    private static int Value(DicomPicture picture, ushort cell) => ((cell >> picture.Shift) & picture.GreatestValue) ^ picture.Raised;
}
