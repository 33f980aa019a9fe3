using System.Globalization;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Quantities;

namespace Secondpass.Domain.Films;

/// <summary>An object of known length on a film, marked at its two ends.</summary>
/// <remarks>Not a length that is measured: it is what a <see cref="Calibration"/> comes from. It presumes that the object lies in the film's plane as the tooth does.</remarks>
/// <param name="From">One end, in pixels of the film.</param>
/// <param name="To">The other end.</param>
/// <param name="Length">How long the object is.</param>
/// <param name="Within">How far its true length may lie from that, either way: half of the last digit that was given.</param>
public sealed record KnownLength(PixelPoint From, PixelPoint To, Millimetres Length, Millimetres Within)
{
    /// <summary>The length with as many digits as are known, such as "21 mm" or "21.0 mm".</summary>
    public string LengthInWords =>
        Length.Value.ToString(Within.Value < 0.05 ? "0.00" : Within.Value < 0.5 ? "0.0" : "0", CultureInfo.InvariantCulture) + " mm";

    /// <summary>How far apart the two marks are, in pixels.</summary>
    public double DistancePixels => From.DistanceTo(To);

    /// <summary>
    /// Standard deviation of the scale, as a share of it: both marks off by <see cref="DrawnOnFilms.ClickDeviationPixels"/> along the object, and a
    /// length that is anywhere <see cref="Within"/> of what was given (a uniform distribution: its half width over √3), joined in squares.
    /// </summary>
    public double DeviationShare => double.Hypot(
        Math.Sqrt(2) * DrawnOnFilms.ClickDeviationPixels.Value / DistancePixels,
        Within.Value / Math.Sqrt(3) / Length.Value);
}
