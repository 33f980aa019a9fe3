using System.Globalization;

namespace Secondpass.Domain.Quantities;

/// <summary>An area in square millimetres, as projected onto the film's plane at the calibrated scale.</summary>
/// <remarks>Never NaN or infinite: such a value is refused when it is made. The default is zero.</remarks>
public readonly record struct SquareMillimetres : IComparable<SquareMillimetres>
{
    /// <summary>Makes the quantity from a raw number of mm².</summary>
    /// <exception cref="ArgumentOutOfRangeException">The number is NaN or infinite.</exception>
    public SquareMillimetres(double value) => Value = Finite.Required(value, "mm²");

    /// <summary>The raw number, in mm².</summary>
    public double Value { get; }

    /// <inheritdoc/>
    public int CompareTo(SquareMillimetres other) => Value.CompareTo(other.Value);

    /// <summary>Orders two values.</summary>
    public static bool operator <(SquareMillimetres left, SquareMillimetres right) => left.Value < right.Value;

    /// <summary>Orders two values.</summary>
    public static bool operator >(SquareMillimetres left, SquareMillimetres right) => left.Value > right.Value;

    /// <summary>Orders two values.</summary>
    public static bool operator <=(SquareMillimetres left, SquareMillimetres right) => left.Value <= right.Value;

    /// <summary>Orders two values.</summary>
    public static bool operator >=(SquareMillimetres left, SquareMillimetres right) => left.Value >= right.Value;

    /// <summary>The number with its unit, for logs and failing tests; never for a person's screen.</summary>
    public override string ToString() => Value.ToString("0.####", CultureInfo.InvariantCulture) + " mm²";
}
