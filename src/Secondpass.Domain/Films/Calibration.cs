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

    private Calibration(double millimetresPerPixel, CalibrationSource source, double ownDeviationShare)
    {
        MillimetresPerPixel = millimetresPerPixel;
        Source = source;
        OwnDeviationShare = ownDeviationShare;
        DeviationShare = double.Hypot(DrawnOnFilms.ScaleDeviationShare.Value, ownDeviationShare);
    }

    /// <summary>Millimetres per pixel, between the two plausible limits.</summary>
    public double MillimetresPerPixel { get; }

    /// <summary>Where the scale comes from.</summary>
    public CalibrationSource Source { get; }

    /// <summary>Standard deviation of what the scale adds to a length, as a share of it.</summary>
    public double DeviationShare { get; }

    /// <summary>The part of <see cref="DeviationShare"/> that is owed to how the size of a pixel was found; 0 where that is not known.</summary>
    public double OwnDeviationShare { get; }

    /// <summary>The object of known length that it comes from; null where it comes from something else.</summary>
    public KnownLength? Known { get; private init; }

    /// <summary>A measure in mm whose interval holds <see cref="OwnDeviationShare"/> too, joined in squares.</summary>
    /// <param name="millimetres">A measure in mm along this scale, whose interval holds everything but that; an end that is not below zero stays so.</param>
    public Estimate Widened(Estimate millimetres)
    {
        var own = 1.96 * OwnDeviationShare * Math.Abs(millimetres.Value);
        if (own == 0)
        {
            return millimetres;
        }

        var low = millimetres.Value - double.Hypot(millimetres.Value - millimetres.Interval.Low, own);
        var high = millimetres.Value + double.Hypot(millimetres.Interval.High - millimetres.Value, own);
        return new Estimate(millimetres.Value, new Interval(millimetres.Interval.Low >= 0 ? Math.Max(0, low) : low, high));
    }

    /// <summary>A measure in pixels along the film, in mm: its interval holds <see cref="OwnDeviationShare"/> too.</summary>
    /// <param name="pixels">In pixels.</param>
    public Estimate InMillimetres(Estimate pixels) => Widened(new(
        pixels.Value * MillimetresPerPixel,
        new Interval(pixels.Interval.Low * MillimetresPerPixel, pixels.Interval.High * MillimetresPerPixel)));

    /// <summary>Makes a calibration from a pixel size in millimetres.</summary>
    /// <param name="millimetresPerPixel">Size of a pixel in mm.</param>
    /// <param name="source">Where it comes from.</param>
    /// <param name="ownDeviationShare">Standard deviation of how the size was found, as a share of it; 0 where that is not known. It is joined in squares with <see cref="DrawnOnFilms.ScaleDeviationShare"/>.</param>
    /// <returns>The calibration, or the refusal of an implausible size, which quotes it.</returns>
    public static Answer<Calibration> From(double millimetresPerPixel, CalibrationSource source, double ownDeviationShare = 0)
    {
        if (millimetresPerPixel is >= SmallestMillimetresPerPixel and <= LargestMillimetresPerPixel)
        {
            return new Calibration(millimetresPerPixel, source, ownDeviationShare);
        }

        return new Refusal(
            "implausible_pixel_size",
            string.Create(
                CultureInfo.InvariantCulture,
                $"A pixel of {millimetresPerPixel} mm is not that of an intra-oral film ({SmallestMillimetresPerPixel} to {LargestMillimetresPerPixel} mm)."),
            "Check the unit (30 µm is 0.03 mm), or calibrate by an object of known length on the film.",
            new Dictionary<string, double> { ["pixel_spacing_mm"] = double.IsFinite(millimetresPerPixel) ? millimetresPerPixel : -1 });
    }

    /// <summary>Makes a calibration from an object of known length on the film.</summary>
    /// <param name="known">The object.</param>
    /// <returns>
    /// The calibration, as uncertain as marks and length make it; or a refusal that quotes what can't be: a length outside
    /// <see cref="DrawnOnFilms.LeastKnownLength"/> and <see cref="DrawnOnFilms.GreatestKnownLength"/>, or not known to a quarter of it
    /// (<c>implausible_known_length</c>), marks nearer
    /// to each other than <see cref="DrawnOnFilms.LeastKnownDistance"/> (<c>marks_too_close</c>), an implausible pixel (<c>implausible_pixel_size</c>).
    /// </returns>
    public static Answer<Calibration> From(KnownLength known)
    {
        ArgumentNullException.ThrowIfNull(known);
        var (least, greatest) = (DrawnOnFilms.LeastKnownLength.Value, DrawnOnFilms.GreatestKnownLength.Value);
        if (!(known.Length.Value >= least && known.Length.Value <= greatest))
        {
            return new Refusal(
                "implausible_known_length",
                string.Create(CultureInfo.InvariantCulture, $"A known length of {known.Length.Value} mm can't give an intra-oral film its scale ({least} to {greatest} mm)."),
                "Give the object's length in mm.",
                new Dictionary<string, double> { ["known_length_mm"] = known.Length.Value });
        }

        if (!(known.Within.Value >= 0 && known.Within.Value <= known.Length.Value / 4))
        {
            return new Refusal(
                "implausible_known_length",
                string.Create(CultureInfo.InvariantCulture, $"A known length of {known.Length.Value} mm that may be off by {known.Within.Value} mm can't give a film its scale."),
                "Say by how much it may be off at most, in mm: from 0 to a quarter of the length.",
                new Dictionary<string, double> { ["known_length_mm"] = known.Length.Value, ["within_mm"] = known.Within.Value });
        }

        var distancePixels = known.DistancePixels;
        if (distancePixels < DrawnOnFilms.LeastKnownDistance.Value)
        {
            return new Refusal(
                "marks_too_close",
                string.Create(CultureInfo.InvariantCulture, $"The two marks are {distancePixels:0.#} pixels apart; a scale needs at least {DrawnOnFilms.LeastKnownDistance.Value:0}."),
                "Mark both ends of the object, and take the longest that is on the film.",
                new Dictionary<string, double> { ["distance_px"] = distancePixels });
        }

        return From(known.Length.Value / distancePixels, CalibrationSource.KnownLength, known.DeviationShare).TryGet(out var scale, out var implausible)
            ? scale with { Known = known }
            : implausible with
            {
                Reason = string.Create(
                    CultureInfo.InvariantCulture,
                    $"{known.LengthInWords} over {distancePixels:0} pixels make a pixel of {known.Length.Value / distancePixels:0.####} mm, which is not that of an intra-oral film ({SmallestMillimetresPerPixel} to {LargestMillimetresPerPixel} mm)."),
                Remedy = "Check the length, which is in mm, and the two marks.",
            };
    }
}
