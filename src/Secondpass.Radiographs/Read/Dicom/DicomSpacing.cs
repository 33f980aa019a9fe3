using Secondpass.Domain.Evidence;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;

namespace Secondpass.Radiographs.Read.Dicom;

/// <summary>Chooses between the scales that a DICOM file may state.</summary>
/// <remarks>
/// Rules: DICOM PS3.3, 10.7.1. Imager Pixel Spacing is measured at the detector and never corrected; Pixel Spacing is
/// corrected or calibrated where it differs from it or names a calibration type, uncorrected where it equals it, and
/// of unknown meaning where it stands alone without a type. Where only the detector's is known, the estimated
/// magnification, if any, leads to the patient.
/// </remarks>
internal static class DicomSpacing
{
    // Two numbers written in different ways are the same; no correction is as small.
    private const double SameNumber = 1e-4;

    // A magnification below 1 can't be; beyond 2 the tooth would be nearer to the source than to the sensor.
    private const double SmallestMagnification = 1;
    private const double LargestMagnification = 2;

    /// <summary>The scale, or null when the file states none.</summary>
    /// <param name="elements">The file's elements.</param>
    /// <param name="notices">Where notices go.</param>
    public static FileSpacing? Choose(DicomElements elements, List<string> notices)
    {
        var patient = Pair(elements, DicomTag.PixelSpacing, notices);
        var detector = Pair(elements, DicomTag.ImagerPixelSpacing, notices) ?? Pair(elements, DicomTag.NominalScannedPixelSpacing, notices);
        var how = elements.Text(DicomTag.PixelSpacingCalibrationType) switch
        {
            "FIDUCIAL" => "calibrated by an object of known size",
            "GEOMETRY" => "corrected for magnification",
            _ => null,
        };

        FileSpacing? chosen;
        if (patient is { } corrected && detector is { } raw && !(Same(corrected.Height, raw.Height) && Same(corrected.Width, raw.Width)))
        {
            notices.Add(FilmNotices.SpacingCorrected(raw.Height, corrected.Height, how));
            chosen = Spacing(corrected, SpacingMeaning.AtObject);
        }
        else if (detector is { } measured)
        {
            chosen = AtDetectorOrDivided(measured, elements, notices);
        }
        else
        {
            chosen = patient is { } alone ? Spacing(alone, how is null ? SpacingMeaning.Unstated : SpacingMeaning.AtObject) : null;
        }

        NoticeShape(chosen, elements, notices);
        return chosen;
    }

    private static FileSpacing AtDetectorOrDivided((double Height, double Width) measured, DicomElements elements, List<string> notices)
    {
        if (elements.Decimals(DicomTag.EstimatedMagnification) is not [var magnification, ..])
        {
            return DividedByDistances(measured, elements, notices);
        }

        if (magnification == SmallestMagnification)
        {
            return Spacing(measured, SpacingMeaning.AtDetector);
        }

        if (magnification is < SmallestMagnification or > LargestMagnification)
        {
            notices.Add(FilmNotices.MagnificationIgnored(magnification));
            return Spacing(measured, SpacingMeaning.AtDetector);
        }

        notices.Add(FilmNotices.SpacingDivided(measured.Height, magnification));
        return Spacing((measured.Height / magnification, measured.Width / magnification), SpacingMeaning.AtObject);
    }

    // PS3.3, C.8.7.10: the estimated magnification is the ratio of the two distances, so where it is left out they give it.
    private static FileSpacing DividedByDistances((double Height, double Width) measured, DicomElements elements, List<string> notices)
    {
        if (elements.Decimals(DicomTag.DistanceToDetector) is not [> 0 and var toDetector, ..] || elements.Decimals(DicomTag.DistanceToPatient) is not [> 0 and var toPatient, ..]
            || toDetector == toPatient)
        {
            return Spacing(measured, SpacingMeaning.AtDetector);
        }

        var magnification = toDetector / toPatient;
        if (magnification is < SmallestMagnification or > LargestMagnification)
        {
            notices.Add(FilmNotices.DistancesIgnored(toDetector, toPatient));
            return Spacing(measured, SpacingMeaning.AtDetector);
        }

        notices.Add(FilmNotices.SpacingDividedByDistances(measured.Height, toDetector, toPatient));
        return Spacing((measured.Height / magnification, measured.Width / magnification), SpacingMeaning.AtObject);
    }

    private static void NoticeShape(FileSpacing? chosen, DicomElements elements, List<string> notices)
    {
        if (chosen is { } spacing)
        {
            if (Math.Abs((spacing.PixelWidth.Value / spacing.PixelHeight.Value) - 1) > FilmReading.SameScaleTolerance.Value)
            {
                notices.Add(FilmNotices.SpacingNotSquare(spacing.PixelWidth.Value, spacing.PixelHeight.Value));
            }
        }
        else if (elements.Decimals(DicomTag.PixelAspectRatio) is [var vertical, var horizontal] && vertical != horizontal)
        {
            notices.Add(FilmNotices.AspectNotSquare);
        }
    }

    // PS3.3, 10.7.1.3: first the distance between rows, then between columns.
    private static (double Height, double Width)? Pair(DicomElements elements, uint tag, List<string> notices)
    {
        if (elements.Decimals(tag) is not [var height, var width])
        {
            return null;
        }

        if (height > 0 && width > 0)
        {
            return (height, width);
        }

        notices.Add(FilmNotices.UnusableResolution);
        return null;
    }

    private static bool Same(double left, double right) => Math.Abs(left - right) <= SameNumber * right;

    private static FileSpacing Spacing((double Height, double Width) pair, SpacingMeaning meaning) =>
        new(new Millimetres(pair.Width), new Millimetres(pair.Height), meaning);
}
