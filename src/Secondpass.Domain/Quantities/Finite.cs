using System.Globalization;

namespace Secondpass.Domain.Quantities;

/// <summary>The one gate through which a raw number becomes a quantity.</summary>
internal static class Finite
{
    /// <summary>Returns <paramref name="value"/>, which must be finite.</summary>
    /// <param name="value">The raw number, in the unit named by <paramref name="unit"/>.</param>
    /// <param name="unit">The unit, for the message.</param>
    /// <exception cref="ArgumentOutOfRangeException">The number is NaN or infinite.</exception>
    public static double Required(double value, string unit) =>
        double.IsFinite(value)
            ? value
            : throw new ArgumentOutOfRangeException(
                nameof(value),
                value.ToString(CultureInfo.InvariantCulture) + " is not a number of " + unit + ".");
}
