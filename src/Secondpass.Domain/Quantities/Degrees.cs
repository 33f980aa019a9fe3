using System.Globalization;

namespace Secondpass.Domain.Quantities;

/// <summary>An angle in degrees. The method that gave it is named by whoever returns it: two angles by different methods are not comparable.</summary>
/// <remarks>Never NaN or infinite: such a value is refused when it is made. The default is zero.</remarks>
public readonly record struct Degrees : IComparable<Degrees>
{
    /// <summary>Makes the quantity from a raw number of degrees.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The number is NaN or infinite.</exception>
    public Degrees(double value) => Value = Finite.Required(value, "degrees");

    /// <summary>The raw number, in degrees.</summary>
    public double Value { get; }

    /// <inheritdoc/>
    public int CompareTo(Degrees other) => Value.CompareTo(other.Value);

    /// <summary>Orders two values.</summary>
    public static bool operator <(Degrees left, Degrees right) => left.Value < right.Value;

    /// <summary>Orders two values.</summary>
    public static bool operator >(Degrees left, Degrees right) => left.Value > right.Value;

    /// <summary>Orders two values.</summary>
    public static bool operator <=(Degrees left, Degrees right) => left.Value <= right.Value;

    /// <summary>Orders two values.</summary>
    public static bool operator >=(Degrees left, Degrees right) => left.Value >= right.Value;

    /// <summary>The number with its unit, for logs and failing tests; never for a person's screen.</summary>
    public override string ToString() => Value.ToString("0.####", CultureInfo.InvariantCulture) + " degrees";
}
