using Secondpass.Domain.Films;

namespace Secondpass.Radiographs.Read.Dicom;

/// <summary>The window that a DICOM file asks to be shown with, on the scale of the pixels as they are kept.</summary>
internal static class DicomWindow
{
    /// <summary>The first window that the file states, or null.</summary>
    /// <param name="elements">The file's elements.</param>
    /// <param name="picture">How pixels are stored.</param>
    /// <param name="rescale">The line on whose output the window is stated.</param>
    /// <param name="isInverted">Whether kept values are the greatest value minus the stored ones.</param>
    public static GreyWindow? Choose(DicomElements elements, DicomPicture picture, DicomRescale rescale, bool isInverted)
    {
        if (elements.Decimals(DicomTag.WindowCentre) is not [var centre, ..] || elements.Decimals(DicomTag.WindowWidth) is not [var width, ..])
        {
            return null;
        }

        // PS3.3, C.11.2.1.2: the default LINEAR spans c − 0.5 ± (w − 1)/2; LINEAR_EXACT, and the middle of SIGMOID, c ± w/2.
        var isExact = elements.Text(DicomTag.WindowFunction) is "LINEAR_EXACT" or "SIGMOID";
        var middle = isExact ? centre : centre - 0.5;
        var half = isExact ? width / 2 : (width - 1) / 2;
        var one = Kept(middle - half);
        var other = Kept(middle + half);
        var (black, white) = (Math.Min(one, other), Math.Max(one, other));
        return half > 0 && double.IsFinite(black) && double.IsFinite(white) && black < white ? new GreyWindow(black, white) : null;

        double Kept(double output)
        {
            var raised = rescale.ToStored(output) + picture.Raised;
            return isInverted ? picture.GreatestValue - raised : raised;
        }
    }
}
