using Secondpass.Domain.Quantities;

namespace Secondpass.Domain.Evidence;

/// <summary>How well a constant is founded.</summary>
public enum Standing
{
    /// <summary>Read in the publication named.</summary>
    Published,

    /// <summary>Exact arithmetic or geometry; needs no publication.</summary>
    Derived,

    /// <summary>Recalled, not read: shown with the words "from memory", and never used as a check.</summary>
    FromMemory,

    /// <summary>What the trade does, without a source.</summary>
    CommonPractice,

    /// <summary>A choice of this product, with its reason; the clinic can question it.</summary>
    OwnChoice,

    /// <summary>Looked for and not found: there is no value.</summary>
    Missing,
}

/// <summary>A constant with everything needed to doubt it: value, unit, interval, source and standing.</summary>
/// <typeparam name="T">The type of the value.</typeparam>
/// <param name="Name">What it is, in words.</param>
/// <param name="Value">The value; the default of its type when it is missing.</param>
/// <param name="Unit">Its unit, or "–".</param>
/// <param name="Range">The published or assumed range in the same unit, or null.</param>
/// <param name="Source">Authors, journal, year, pages, DOI; or the reason for an own choice.</param>
/// <param name="Standing">How well it is founded.</param>
public sealed record Sourced<T>(
    string Name,
    T Value,
    string Unit,
    Interval? Range,
    string Source,
    Standing Standing)
    : ISourced
{
    /// <inheritdoc/>
    public object? BoxedValue => Standing == Standing.Missing ? null : Value;
}

/// <summary>A <see cref="Sourced{T}"/> of any type, for the printed list of all constants.</summary>
public interface ISourced
{
    /// <summary>What it is, in words.</summary>
    string Name { get; }

    /// <summary>The value, or null when it is missing.</summary>
    object? BoxedValue { get; }

    /// <summary>The unit.</summary>
    string Unit { get; }

    /// <summary>The range, or null.</summary>
    Interval? Range { get; }

    /// <summary>The source.</summary>
    string Source { get; }

    /// <summary>How well it is founded.</summary>
    Standing Standing { get; }
}
