using Secondpass.Domain.Quantities;

namespace Secondpass.Job.Documents;

/// <summary>How numbers are rounded in documents: finer than any film can tell, so that nothing is lost, and no further, so that a document stays readable.</summary>
/// <remarks>
/// Halves go away from zero. Rounding never changes the order of two numbers, so a rounded value stays inside its
/// rounded interval. Nothing is clipped: a share below 0 or above 100 is written as it was estimated.
/// </remarks>
internal static class Rounded
{
    /// <summary>Millimetres, to 0.001.</summary>
    public static double Millimetres(double millimetres) => To(millimetres, 3);

    /// <summary>Square millimetres, to 0.0001.</summary>
    public static double SquareMillimetres(double squareMillimetres) => To(squareMillimetres, 4);

    /// <summary>Degrees, to 0.01.</summary>
    public static double Degrees(double degrees) => To(degrees, 2);

    /// <summary>Percent, to 0.01.</summary>
    public static double Percent(double percent) => To(percent, 2);

    /// <summary>Pixels, to 0.001.</summary>
    public static double Pixels(double pixels) => To(pixels, 3);

    /// <summary>A share between 0 and 1, to 0.0001.</summary>
    public static double Share(double share) => To(share, 4);

    /// <summary>A number of a matrix, to 1e-12: at the far corner of a film of 10 000 pixels even the two perspective numbers then cost 0.0001 pixels at most.</summary>
    public static double MatrixPart(double part) => To(part, 12);

    /// <summary>Both ends of an interval.</summary>
    public static double[] Ends(Interval interval, Func<double, double> round) => [round(interval.Low), round(interval.High)];

    /// <summary>An estimate from a value and its two ends as a document holds them; null where it holds none.</summary>
    public static Estimate? Back(double? value, double[]? ends) =>
        value is { } known && ends is not null ? new Estimate(known, new Interval(ends[0], ends[1])) : null;

    // Adding zero turns −0 into 0.
    private static double To(double value, int decimals) => Math.Round(value, decimals, MidpointRounding.AwayFromZero) + 0.0;
}
