using Secondpass.Domain.Quantities;

namespace Secondpass.Domain.Anatomy;

/// <summary>Which end of a canal a length was read to.</summary>
public enum LengthEnd
{
    /// <summary>The root's apex as a film shows it.</summary>
    RadiographicApex,

    /// <summary>The foramen as a length meter shows it.</summary>
    Foramen,

    /// <summary>The length that is worked to.</summary>
    WorkingLength,

    /// <summary>Where a file stopped.</summary>
    FileStop,

    /// <summary>Where the old filling ends.</summary>
    FillingEnd,

    /// <summary>Where a canal splits or joins another.</summary>
    Meeting,
}

/// <summary>How a length was read.</summary>
public enum LengthSource
{
    /// <summary>On a film.</summary>
    Film,

    /// <summary>On a film with a file in place.</summary>
    FilmWithFile,

    /// <summary>By an electronic length meter.</summary>
    LengthMeter,

    /// <summary>On a cone-beam scan.</summary>
    ConeBeamScan,

    /// <summary>By the stop on an instrument.</summary>
    InstrumentStop,
}

/// <summary>The place on the tooth that lengths are read from.</summary>
/// <param name="Name">Such as "mesiobuccal cusp".</param>
/// <param name="Version">Rises when the place is reduced or lost: lengths read from an older one no longer hold.</param>
public readonly record struct ReferencePoint(string Name, int Version);

/// <summary>A length exactly as it was read: from where, to where, how. Never recomputed.</summary>
/// <remarks>Not a derived distance: "short of the end" is the difference of two readings from the same reference point.</remarks>
/// <param name="From">The reference point.</param>
/// <param name="To">The end it was read to.</param>
/// <param name="Length">The length.</param>
/// <param name="Source">How it was read.</param>
public sealed record LengthReading(ReferencePoint From, LengthEnd To, Millimetres Length, LengthSource Source);
