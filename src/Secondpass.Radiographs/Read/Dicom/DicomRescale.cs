namespace Secondpass.Radiographs.Read.Dicom;

/// <summary>The straight line from stored values to the maker's scale (DICOM PS3.3, C.11.1): output = slope × stored + intercept.</summary>
/// <remarks>
/// A straight line changes the unit and nothing else, so stored values are kept as they are, without loss; only a
/// falling line turns light and dark round. The window, which is stated on the maker's scale, is taken back to the stored one.
/// </remarks>
/// <param name="Slope">Never 0.</param>
/// <param name="Intercept">Output at stored value 0.</param>
internal readonly record struct DicomRescale(double Slope, double Intercept)
{
    /// <summary>Whether larger stored values mean smaller outputs.</summary>
    public bool IsFalling => Slope < 0;

    /// <summary>Reads the line; without one, outputs are the stored values.</summary>
    public static DicomRescale From(DicomElements elements, List<string> notices)
    {
        if (!elements.Has(DicomTag.RescaleSlope) && !elements.Has(DicomTag.RescaleIntercept))
        {
            return new DicomRescale(1, 0);
        }

        if (elements.Decimals(DicomTag.RescaleSlope) is [var slope and not 0, ..]
            && elements.Decimals(DicomTag.RescaleIntercept) is [var intercept, ..])
        {
            return new DicomRescale(slope, intercept);
        }

        notices.Add(FilmNotices.UnusableRescale);
        return new DicomRescale(1, 0);
    }

    /// <summary>The output of a stored value.</summary>
    public double Of(double stored) => (Slope * stored) + Intercept;

    /// <summary>The stored value, possibly fractional, that gives an output.</summary>
    public double ToStored(double output) => (output - Intercept) / Slope;
}
