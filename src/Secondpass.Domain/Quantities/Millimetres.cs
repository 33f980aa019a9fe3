using System.Globalization;

namespace Secondpass.Domain.Quantities;

/// <summary>A length in millimetres. Not a number of pixels: only a Calibration turns one into the other.</summary>
/// <remarks>Never NaN or infinite: such a value is refused when it is made. The default is zero.</remarks>
public readonly record struct Millimetres : IComparable<Millimetres>
{
    /// <summary>Makes the quantity from a raw number of mm.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The number is NaN or infinite.</exception>
    public Millimetres(double value) => Value = Finite.Required(value, "mm");

    /// <summary>The raw number, in mm.</summary>
    public double Value { get; }

    /// <inheritdoc/>
    public int CompareTo(Millimetres other) => Value.CompareTo(other.Value);

    /// <summary>Orders two values.</summary>
    public static bool operator <(Millimetres left, Millimetres right) => left.Value < right.Value;

    /// <summary>Orders two values.</summary>
    public static bool operator >(Millimetres left, Millimetres right) => left.Value > right.Value;

    /// <summary>Orders two values.</summary>
    public static bool operator <=(Millimetres left, Millimetres right) => left.Value <= right.Value;

    /// <summary>Orders two values.</summary>
    public static bool operator >=(Millimetres left, Millimetres right) => left.Value >= right.Value;

    /// <summary>The number with its unit, for logs and failing tests; never for a person's screen.</summary>
    public override string ToString() => Value.ToString("0.####", CultureInfo.InvariantCulture) + " mm";
}
