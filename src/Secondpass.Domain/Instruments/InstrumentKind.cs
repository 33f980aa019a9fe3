using Secondpass.Domain.Quantities;

namespace Secondpass.Domain.Instruments;

/// <summary>What sort of instrument a kind is: decides how it cuts, what it may be used for and what limits it.</summary>
public enum InstrumentSort
{
    /// <summary>Rotary nickel-titanium file for taking filling out.</summary>
    RetreatmentRotary,

    /// <summary>File driven by an ultrasonic unit; it doesn't rotate.</summary>
    UltrasonicFile,

    /// <summary>Rotary finishing file whose core adapts to the canal.</summary>
    AdaptiveCoreFile,

    /// <summary>Rotary or hand opener for the coronal part.</summary>
    OrificeOpener,

    /// <summary>Hand file.</summary>
    HandFile,

    /// <summary>Hand file of the Hedström kind.</summary>
    HedstromFile,

    /// <summary>Heated plugger.</summary>
    HeatedPlugger,

    /// <summary>Hand instrument with a fine tip for loosening.</summary>
    MicroOpener,

    /// <summary>Forceps.</summary>
    Forceps,

    /// <summary>Tube that grips a point or fragment.</summary>
    ExtractorTube,
}

/// <summary>A kind of instrument as a catalogue describes it: geometry, its maker's ranges, price. Never a single item.</summary>
/// <remarks>Described by size, taper, alloy and kind. A maker's range belongs to one kind and never to another that looks alike.</remarks>
/// <param name="Code">Short stable word, such as <c>retreatment-30-06</c>.</param>
/// <param name="Name">Name on screen, such as "retreatment rotary 30/.06".</param>
/// <param name="Sort">What sort it is.</param>
/// <param name="TipSize">ISO size: hundredths of a millimetre at the tip; null where it has none.</param>
/// <param name="Taper">Growth of the diameter in mm per mm, such as 0.06; null where it has none.</param>
/// <param name="CuttingLength">Length of the cutting part; null where it has none.</param>
/// <param name="GreatestDiameter">Diameter that the cutting part never exceeds; null for none.</param>
/// <param name="ExpandedDiameter">Greatest diameter to which an adaptive core can open; null for others.</param>
/// <param name="Speed">The maker's range of speed; null where it doesn't rotate.</param>
/// <param name="TorqueNewtonCentimetres">The maker's torque limit in N·cm; null where it doesn't rotate.</param>
/// <param name="UsesPermitted">Uses that are permitted, counted as the clinic counts them (<see cref="UseCount"/>); 1 for single use; null when not stated.</param>
/// <param name="Fitting">What it fits: thread or chuck of an ultrasonic unit, latch, hand; must match the unit's.</param>
/// <param name="PriceMinorUnits">Price in minor units of the clinic's currency; null when not entered.</param>
public sealed record InstrumentKind(
    string Code,
    string Name,
    InstrumentSort Sort,
    int? TipSize,
    double? Taper,
    Millimetres? CuttingLength,
    Millimetres? GreatestDiameter,
    Millimetres? ExpandedDiameter,
    SpeedRange? Speed,
    double? TorqueNewtonCentimetres,
    int? UsesPermitted,
    string? Fitting,
    long? PriceMinorUnits)
{
    /// <summary>Diameter of the shaft beyond the cutting part, which doesn't cut; null when not stated.</summary>
    public Millimetres? ShaftDiameter { get; init; }

    /// <summary>What the figures rest on, in a sentence.</summary>
    public string Basis { get; init; } = "Entered by the clinic from the maker's instructions.";

    /// <summary>Published figures that differ, each in a sentence with its source.</summary>
    public IReadOnlyList<string> PublishedBeside { get; init; } = [];
}

/// <summary>A range of speed in revolutions per minute, ends included.</summary>
/// <param name="LowRpm">Least.</param>
/// <param name="HighRpm">Greatest.</param>
public readonly record struct SpeedRange(double LowRpm, double HighRpm);
