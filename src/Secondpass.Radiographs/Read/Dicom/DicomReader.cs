using Secondpass.Domain;
using Secondpass.Domain.Films;

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
        var spacing = DicomSpacing.Choose(elements, notices);
        if (picture.IsColour)
        {
            return new DecodedFilm(picture.Width, picture.Height, Colour(picture, stored, notices), picture.GreatestValue, spacing, null, notices);
        }

        if (picture.Colour == DicomColour.Palette)
        {
            return FromPalette(elements, picture, stored, spacing, notices);
        }

        var greys = DicomGreys.From(elements, picture, notices);
        greys.Keep(stored.Cells);
        var (window, curve) = greys.Look(elements, notices);
        return new DecodedFilm(picture.Width, picture.Height, stored.Cells, greys.GreatestValue, spacing, window, notices) { ShownCurve = curve };
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
        AddWhen(elements.Text(DicomTag.PhotometricInterpretation) is null, FilmNotices.KindAssumed);
        AddWhen(elements.Number(DicomTag.BitsStored) is null, FilmNotices.BitsAssumed(elements.Number(DicomTag.BitsAllocated)!.Value));
        AddWhen(stored.IsCutOff, FilmNotices.CutOff);
        AddWhen(stored.HasLoss || elements.Text(DicomTag.LossyCompression) == "01", FilmNotices.LossyCompression);
        AddWhen(elements.Text(DicomTag.PresentationIntent) == "FOR PROCESSING", FilmNotices.Unprocessed);

        void AddWhen(bool holds, string notice)
        {
            if (holds)
            {
                notices.Add(notice);
            }
        }
    }

    private static Answer<DecodedFilm> FromPalette(DicomElements elements, DicomPicture picture, DicomPixels stored, FileSpacing? spacing, List<string> notices)
    {
        if (stored.HasLoss)
        {
            return FilmRefusals.Unsupported(Name, "a palette of colours whose numbers were compressed with loss");
        }

        if (!DicomPalette.From(elements, picture.IsSigned).TryGet(out var palette, out var refusal))
        {
            return refusal;
        }

        notices.Add(Luminance.Notice(palette.Apply(picture, stored.Cells)));
        return new DecodedFilm(picture.Width, picture.Height, stored.Cells, palette.GreatestValue, spacing, null, notices);
    }

    private static ushort[] Colour(DicomPicture picture, DicomPixels stored, List<string> notices)
    {
        var pixels = new ushort[picture.Width * picture.Height];
        var (pixelStep, channelStep) = stored.IsPlanar ? (1, pixels.Length) : (3, 1);
        var anyColour = false;
        for (var i = 0; i < pixels.Length; i++)
        {
            var red = picture.Value(stored.Cells[i * pixelStep]);
            var green = picture.Value(stored.Cells[(i * pixelStep) + channelStep]);
            var blue = picture.Value(stored.Cells[(i * pixelStep) + (2 * channelStep)]);
            if (picture.Colour != DicomColour.Rgb)
            {
                (red, green, blue) = Luminance.ToRgb(red, green, blue, picture.Stored);
            }

            anyColour |= red != green || green != blue;
            pixels[i] = Luminance.Of(red, green, blue);
        }

        notices.Add(Luminance.Notice(anyColour));
        return pixels;
    }
}
