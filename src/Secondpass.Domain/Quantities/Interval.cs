using System.Globalization;

namespace Secondpass.Domain.Quantities;

/// <summary>The range in which a value lies with 95 % confidence, unless its owner names another level. Both ends belong to it.</summary>
/// <remarks>The unit is that of the value it goes with. Not clipped: a share of what is left may reach below 0 or above 100.</remarks>
public readonly record struct Interval
{
    /// <summary>Makes a range from its two ends.</summary>
    /// <param name="low">Lower end, finite.</param>
    /// <param name="high">Upper end, finite, not below <paramref name="low"/>.</param>
    /// <exception cref="ArgumentOutOfRangeException">An end is not finite, or the ends are in the wrong order.</exception>
    public Interval(double low, double high)
    {
        Low = Finite.Required(low, "the interval's low end");
        High = Finite.Required(high, "the interval's high end");
        if (high < low)
        {
            throw new ArgumentOutOfRangeException(
                nameof(high),
                string.Create(CultureInfo.InvariantCulture, $"The upper end {high} lies below the lower end {low}."));
        }
    }

    /// <summary>Lower end.</summary>
    public double Low { get; }

    /// <summary>Upper end.</summary>
    public double High { get; }

    /// <summary>High minus low.</summary>
    public double Width => High - Low;

    /// <summary>Whether the value lies in the range, ends included.</summary>
    public bool Contains(double value) => value >= Low && value <= High;
}
