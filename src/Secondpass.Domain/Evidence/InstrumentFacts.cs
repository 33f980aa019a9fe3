using Secondpass.Domain.Quantities;

namespace Secondpass.Domain.Evidence;

/// <summary>Facts of the trade about the shipped kinds of instruments, and published figures that differ from them. A range belongs to its own kind.</summary>
public static class InstrumentFacts
{
    private const string NoSource = "Told by clinicians who use the set; no publication.";

    /// <summary>The sizes of hand files, in hundredths of a millimetre at the tip.</summary>
    public static Sourced<SizeList> StandardSizes { get; } = new(
        "Standard sizes of hand files",
        new SizeList([6, 8, 10, 15, 20, 25, 30, 35, 40, 45, 50, 55, 60, 70, 80, 90, 100, 110, 120, 130, 140]),
        "1/100 mm",
        null,
        "ISO 3630-1, from memory",
        Standing.FromMemory);

    /// <summary>Least length of the cutting part.</summary>
    public static Sourced<double> CuttingLength { get; } = new(
        "Cutting part of a root-canal file, at least",
        16,
        "mm",
        null,
        "Kim et al., J Korean Acad Conserv Dent 2010;35(6), after ISO 3630-1",
        Standing.Published);

    /// <summary>The maker's range of speed of the retreatment rotaries 30/.06 and 30/.04.</summary>
    public static Sourced<double> RetreatmentSpeed { get; } = new(
        "Retreatment rotaries 30/.06 and 30/.04: the maker's range of speed (middle)",
        225,
        "rpm",
        new Interval(150, 300),
        NoSource,
        Standing.CommonPractice);

    /// <summary>At what speed some clinics run them.</summary>
    public static Sourced<double> RetreatmentSpeedInUse { get; } = new(
        "Retreatment rotaries 30/.06 and 30/.04: speed at which some clinics run them (middle)",
        375,
        "rpm",
        new Interval(350, 400),
        NoSource,
        Standing.CommonPractice);

    /// <summary>The torque limit of the retreatment rotaries 30/.06 and 30/.04.</summary>
    public static Sourced<double> RetreatmentTorque { get; } = new(
        "Retreatment rotaries 30/.06 and 30/.04: torque limit",
        1,
        "N·cm",
        null,
        NoSource,
        Standing.CommonPractice);

    /// <summary>How often the retreatment rotaries 30/.06 and 30/.04 are used.</summary>
    public static Sourced<int> RetreatmentUses { get; } = new(
        "Retreatment rotaries 30/.06 and 30/.04: uses at most",
        5,
        "uses",
        null,
        NoSource,
        Standing.CommonPractice);

    /// <summary>The range of speed of the adaptive-core finishing file.</summary>
    public static Sourced<double> AdaptiveCoreSpeed { get; } = new(
        "Adaptive-core finishing file: speed (middle)",
        925,
        "rpm",
        new Interval(850, 1000),
        NoSource,
        Standing.CommonPractice);

    /// <summary>The torque limit of the adaptive-core finishing file.</summary>
    public static Sourced<double> AdaptiveCoreTorque { get; } = new(
        "Adaptive-core finishing file: torque limit",
        1,
        "N·cm",
        null,
        NoSource,
        Standing.CommonPractice);

    /// <summary>Other speeds recalled for the adaptive-core finishing file.</summary>
    public static Sourced<double> AdaptiveCoreSpeedRecalled { get; } = new(
        "Adaptive-core finishing file: speed in makers' instructions, with 1 N·cm, 1 min, strokes of 7–8 mm (middle)",
        900,
        "rpm",
        new Interval(800, 1000),
        "Makers' instructions, recalled",
        Standing.FromMemory);

    /// <summary>How wide an adaptive core is taken to open at most.</summary>
    public static Sourced<double> AdaptiveCoreOpening { get; } = new(
        "Adaptive-core finishing file: width to which its core is taken to open at most, halfway along its working part",
        1.5,
        "mm",
        null,
        "No published figure was found. A wide assumption: the widest canal in the apical 5 mm that is listed for it is about 1.1 mm (lower molar, distal). The clinic enters its maker's own.",
        Standing.OwnChoice);

    /// <summary>Speed and torque of another retreatment set.</summary>
    public static Sourced<double> OtherSetSpeed { get; } = new(
        "Another retreatment set (30/.10, 25/.08, 20/.06): speed, with 2–4 N·cm and no solvent (middle)",
        700,
        "rpm",
        new Interval(600, 800),
        "Glossary of the journal Dental Diamond, entry on retreatment files; torque printed as 2–4 N",
        Standing.Published);

    /// <summary>Speed of rotary files in a clinical study of reuse.</summary>
    public static Sourced<double> ClinicalStudySpeed { get; } = new(
        "Speed of rotary files of taper .04 and more, with 3 N·cm, in 3181 canals",
        350,
        "rpm",
        null,
        "Di Fiore et al., Int Endod J 2006;39:700–708, doi 10.1111/j.1365-2591.2006.01137.x: 0.39 % of instruments separated",
        Standing.Published);

    /// <summary>Uses per instrument in a clinical series.</summary>
    public static Sourced<int> UsesInASeries { get; } = new(
        "Uses per rotary instrument in a series of 4865 cases, about",
        8,
        "uses",
        null,
        "Iqbal, Kohli, Kim, J Endod 2006;32:1048–1052: 1.68 % separated, most in the apical third",
        Standing.Published);

    /// <summary>Separated instruments where each was used once.</summary>
    public static Sourced<double> SeparatedAtSingleUse { get; } = new(
        "Rotary instruments separated where each was used once (7 of 786)",
        0.89,
        "%",
        null,
        "Arens et al., J Endod 2003;29:664–666",
        Standing.Published);

    /// <summary>How the shipped ultrasonic files are held.</summary>
    public static Sourced<string> UltrasonicFileFitting { get; } = new(
        "Ultrasonic files 25, 30, 35: held in",
        "file chuck",
        "–",
        null,
        "Loose files are clamped in a chuck that screws onto the handpiece; no publication.",
        Standing.CommonPractice);
}

/// <summary>Sizes of instruments, in hundredths of a millimetre at the tip.</summary>
/// <param name="Sizes">In order.</param>
public sealed record SizeList(IReadOnlyList<int> Sizes)
{
    /// <summary>Such as "6, 8, 10".</summary>
    public override string ToString() => string.Join(", ", Sizes);
}
