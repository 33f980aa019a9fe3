using System.Globalization;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Quantities;

namespace Secondpass.Domain.Films;

/// <summary>Where a film's scale comes from.</summary>
public enum CalibrationSource
{
    /// <summary>The film's own file.</summary>
    File,

    /// <summary>An object of known length seen on the film.</summary>
    KnownLength,

    /// <summary>Entered by the user or by a case file.</summary>
    Entered,

    /// <summary>The corners of a film that was photographed, and its known size.</summary>
    Photograph,
}

/// <summary>How many millimetres one pixel of a film is. The only way from pixels to millimetres.</summary>
/// <remarks>Not part of a <see cref="Radiograph"/>: one film may be calibrated again, and measurements say by which.</remarks>
public sealed record Calibration
{
    /// <summary>The smallest pixel taken as plausible for an intra-oral film: 0.005 mm.</summary>
    public const double SmallestMillimetresPerPixel = 0.005;

    /// <summary>The largest pixel taken as plausible for an intra-oral film: 0.5 mm.</summary>
    public const double LargestMillimetresPerPixel = 0.5;

    private Calibration(double millimetresPerPixel, CalibrationSource source, double deviationShare)
    {
        MillimetresPerPixel = millimetresPerPixel;
        Source = source;
        DeviationShare = deviationShare;
    }

    /// <summary>Millimetres per pixel, between the two plausible limits.</summary>
    public double MillimetresPerPixel { get; }

    /// <summary>Where the scale comes from.</summary>
    public CalibrationSource Source { get; }

    /// <summary>Standard deviation of what the scale adds to a length, as a share of it.</summary>
    public double DeviationShare { get; }

    /// <summary>Makes a calibration from a pixel size in millimetres.</summary>
    /// <param name="millimetresPerPixel">Size of a pixel in mm.</param>
    /// <param name="source">Where it comes from.</param>
    /// <param name="ownDeviationShare">Standard deviation of how the size was found, as a share of it; 0 where that is not known. It is joined in squares with <see cref="DrawnOnFilms.ScaleDeviationShare"/>.</param>
    /// <returns>The calibration, or the refusal of an implausible size, which quotes it.</returns>
    public static Answer<Calibration> From(double millimetresPerPixel, CalibrationSource source, double ownDeviationShare = 0)
    {
        if (millimetresPerPixel is >= SmallestMillimetresPerPixel and <= LargestMillimetresPerPixel)
        {
            return new Calibration(millimetresPerPixel, source, double.Hypot(DrawnOnFilms.ScaleDeviationShare.Value, ownDeviationShare));
        }

        return new Refusal(
            "implausible_pixel_size",
            string.Create(
                CultureInfo.InvariantCulture,
                $"A pixel of {millimetresPerPixel} mm is not that of an intra-oral film ({SmallestMillimetresPerPixel} to {LargestMillimetresPerPixel} mm)."),
            "Check the unit (30 µm is 0.03 mm), or calibrate by an object of known length on the film.",
            new Dictionary<string, double> { ["pixel_spacing_mm"] = double.IsFinite(millimetresPerPixel) ? millimetresPerPixel : -1 });
    }

    /// <summary>Makes a calibration from two marks at the ends of an object of known length.</summary>
    /// <param name="from">One end, in pixels.</param>
    /// <param name="to">The other end, in pixels; at least 10 pixels away.</param>
    /// <param name="length">The object's length.</param>
    public static Answer<Calibration> FromKnownLength(PixelPoint from, PixelPoint to, Millimetres length)
    {
        var distancePixels = from.DistanceTo(to);
        if (distancePixels < 10)
        {
            return new Refusal(
                "marks_too_close",
                string.Create(CultureInfo.InvariantCulture, $"The two marks are {distancePixels:0.#} pixels apart; a scale needs at least 10."),
                "Mark both ends of the object, as far apart as it is on the film.",
                new Dictionary<string, double> { ["distance_px"] = distancePixels });
        }

        return From(length.Value / distancePixels, CalibrationSource.KnownLength);
    }
}
