namespace Secondpass.Domain.Instruments;

/// <summary>What the sorts of instruments have in common.</summary>
public static class InstrumentSorts
{
    /// <summary>Whether it turns in a handpiece: speed and torque are set.</summary>
    public static bool Rotates(this InstrumentSort sort) => sort is InstrumentSort.RetreatmentRotary or InstrumentSort.AdaptiveCoreFile or InstrumentSort.OrificeOpener;

    /// <summary>Whether an engine drives it, turning or by ultrasound.</summary>
    public static bool IsDriven(this InstrumentSort sort) => sort.Rotates() || sort is InstrumentSort.UltrasonicFile;

    /// <summary>Whether it is a file, of which rules of single use speak; not a plugger, a micro-opener, forceps or an extractor tube.</summary>
    public static bool IsFile(this InstrumentSort sort) => sort.IsDriven() || sort is InstrumentSort.HandFile or InstrumentSort.HedstromFile;

    /// <summary>The sort in words.</summary>
    public static string InWords(this InstrumentSort sort) => sort switch
    {
        InstrumentSort.RetreatmentRotary => "retreatment rotary",
        InstrumentSort.UltrasonicFile => "ultrasonic file",
        InstrumentSort.AdaptiveCoreFile => "adaptive-core finishing file",
        InstrumentSort.OrificeOpener => "orifice opener",
        InstrumentSort.HandFile => "hand file",
        InstrumentSort.HedstromFile => "Hedström file",
        InstrumentSort.HeatedPlugger => "heated plugger",
        InstrumentSort.MicroOpener => "micro-opener",
        InstrumentSort.Forceps => "forceps",
        InstrumentSort.ExtractorTube => "extractor tube",
        _ => throw new ArgumentOutOfRangeException(nameof(sort), sort, "Not a sort of instrument."),
    };
}
