namespace Secondpass.Domain.Quantities;

/// <summary>A measured value with its 95 % interval, in the unit that the member holding it names.</summary>
/// <remarks>
/// Not a <see cref="Evidence.Sourced{T}"/>, which is a constant from the literature: an estimate was read off a film.
/// The value lies inside its interval.
/// </remarks>
public readonly record struct Estimate
{
    /// <summary>Makes an estimate.</summary>
    /// <param name="value">The best single value, finite.</param>
    /// <param name="interval">Its 95 % interval, which must contain it.</param>
    /// <exception cref="ArgumentOutOfRangeException">The value is not finite or lies outside its interval.</exception>
    public Estimate(double value, Interval interval)
    {
        Value = Finite.Required(value, "the estimate");
        Interval = interval;
        if (!interval.Contains(value))
        {
            throw new ArgumentOutOfRangeException(nameof(interval), "An estimate lies inside its interval.");
        }
    }

    /// <summary>The best single value.</summary>
    public double Value { get; }

    /// <summary>The 95 % interval.</summary>
    public Interval Interval { get; }

    /// <summary>An estimate from a value and a symmetric half width.</summary>
    public static Estimate Within(double value, double halfWidth) =>
        new(value, new Interval(value - halfWidth, value + halfWidth));
}
