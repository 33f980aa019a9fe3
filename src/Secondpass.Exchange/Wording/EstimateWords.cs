using System.Globalization;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;

namespace Secondpass.Exchange.Wording;

/// <summary>Estimates in words: the value with its unit, the 95 % interval behind it.</summary>
public static class EstimateWords
{
    /// <summary>A length, such as "14.2 mm (13.9–14.5)".</summary>
    /// <param name="estimate">In mm.</param>
    /// <param name="decimals">How many decimals are shown.</param>
    public static string Millimetres(Estimate estimate, int decimals) => With(estimate, " mm", decimals);

    /// <summary>An angle, such as "25° (22–28)".</summary>
    /// <param name="estimate">In degrees.</param>
    public static string Degrees(Estimate estimate) => With(estimate, "°", 0);

    /// <summary>A curve after Pruett, such as "40° (36–50), radius 6.0 mm (5.6–6.4)"; null where there is no angle.</summary>
    /// <param name="curve">The curve.</param>
    public static string? Pruett(PruettCurve curve)
    {
        ArgumentNullException.ThrowIfNull(curve);
        return (curve.AngleDegrees, curve.RadiusMillimetres) switch
        {
            ({ } angle, { } radius) => $"{Degrees(angle)}, radius {Millimetres(radius, 1)}",
            ({ } angle, null) => Degrees(angle),
            _ => null,
        };
    }

    /// <summary>A value with its unit and its interval.</summary>
    /// <param name="estimate">The estimate.</param>
    /// <param name="unit">What follows the value, with its space.</param>
    /// <param name="decimals">How many decimals are shown.</param>
    public static string With(Estimate estimate, string unit, int decimals) =>
        $"{Number(estimate.Value, decimals)}{unit} ({Number(estimate.Interval.Low, decimals)}–{Number(estimate.Interval.High, decimals)})";

    /// <summary>A number with a fixed count of decimals, halves away from zero, never −0.</summary>
    /// <param name="value">The number.</param>
    /// <param name="decimals">How many decimals are shown.</param>
    public static string Number(double value, int decimals) =>
        (Math.Round(value, decimals, MidpointRounding.AwayFromZero) + 0.0).ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
}
