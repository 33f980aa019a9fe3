using System.Globalization;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Quantities;

namespace Secondpass.Domain.Instruments;

/// <summary>The kinds of instruments that ship: generic ones, one entry a kind. The clinic enters its own beside them or over them.</summary>
public static class ShippedKinds
{
    private const string NotStated = "Speed, torque and uses are not stated here: a range belongs to its own kind. The maker's instructions say.";
    private const string Iso = "Size and taper after ISO 3630-1.";
    private const string OfTheSet = "Speed, torque and uses: common practice, no source.";

    private static readonly string[] OtherRotaries =
    [
        Beside(InstrumentFacts.OtherSetSpeed),
        Beside(InstrumentFacts.ClinicalStudySpeed),
        Beside(InstrumentFacts.UsesInASeries),
        Beside(InstrumentFacts.SeparatedAtSingleUse),
    ];

    /// <summary>The kinds, in the order in which they are listed.</summary>
    public static IReadOnlyList<InstrumentKind> All { get; } =
    [
        Retreatment(12, null, null, null, [$"Left out of the shipped sequence to spare dentine. {NotStated}"]),
        Retreatment(8, null, null, null, [$"Left out of the shipped sequence to spare dentine. {NotStated}"]),
        Retreatment(6, Range(InstrumentFacts.RetreatmentSpeed), InstrumentFacts.RetreatmentTorque.Value, InstrumentFacts.RetreatmentUses.Value, [OfTheSet]),
        Retreatment(4, Range(InstrumentFacts.RetreatmentSpeed), InstrumentFacts.RetreatmentTorque.Value, InstrumentFacts.RetreatmentUses.Value, [OfTheSet]),
        Ultrasonic(25),
        Ultrasonic(30),
        Ultrasonic(35),
        new("adaptive-core-25", "adaptive-core finishing file 25", InstrumentSort.AdaptiveCoreFile, 25, 0, Mm(InstrumentFacts.CuttingLength.Value), Mm(0.25), Mm(InstrumentFacts.AdaptiveCoreOpening.Value), Range(InstrumentFacts.AdaptiveCoreSpeed), InstrumentFacts.AdaptiveCoreTorque.Value, null, "latch", null)
        {
            Basis = "Speed and torque: common practice, no source. Size 25 and no taper while closed, and how far it opens, are assumptions of this product. Uses are not stated here: the maker's instructions say.",
            PublishedBeside = [Beside(InstrumentFacts.AdaptiveCoreSpeedRecalled)],
        },
        new("orifice-opener-30-10", "orifice opener 30/.10", InstrumentSort.OrificeOpener, 30, 0.10, Mm(8), null, null, null, null, null, "latch", null)
        {
            Basis = $"Size, taper and a cutting part of 8 mm: common practice, no source. {NotStated}",
        },
        .. ((int[])[8, 10, 15, 20, 25]).Select(size => Hand("hand", "hand file", "stainless steel", InstrumentSort.HandFile, size)),
        .. ((int[])[15, 20, 25, 30, 35]).Select(size => Hand("hedstrom", "Hedström file", "stainless steel", InstrumentSort.HedstromFile, size)),
        Tool("heated-plugger", "heated plugger", InstrumentSort.HeatedPlugger),
        Tool("micro-opener", "micro-opener", InstrumentSort.MicroOpener),
        Tool("forceps", "fine forceps", InstrumentSort.Forceps),
        Tool("extractor-tube", "extractor tube", InstrumentSort.ExtractorTube),
    ];

    private static InstrumentKind Retreatment(int taperPercent, SpeedRange? speed, double? torque, int? uses, IReadOnlyList<string> basis) =>
        new(
            string.Create(CultureInfo.InvariantCulture, $"retreatment-30-{taperPercent:00}"),
            string.Create(CultureInfo.InvariantCulture, $"retreatment rotary 30/.{taperPercent:00}"),
            InstrumentSort.RetreatmentRotary,
            30,
            taperPercent / 100.0,
            Mm(InstrumentFacts.CuttingLength.Value),
            null,
            null,
            speed,
            torque,
            uses,
            "latch",
            null)
        {
            Basis = string.Join(' ', basis.Prepend(Iso)),
            PublishedBeside = OtherRotaries,
        };

    private static InstrumentKind Ultrasonic(int size) =>
        new(
            string.Create(CultureInfo.InvariantCulture, $"ultrasonic-{size}"),
            string.Create(CultureInfo.InvariantCulture, $"ultrasonic file {size}/.02"),
            InstrumentSort.UltrasonicFile,
            size,
            0.02,
            Mm(InstrumentFacts.CuttingLength.Value),
            null,
            null,
            null,
            null,
            null,
            InstrumentFacts.UltrasonicFileFitting.Value,
            null)
        {
            Basis = $"{Iso} Held in a file chuck: common practice, no source. Power and uses are not stated here: the maker's instructions say.",
        };

    private static InstrumentKind Hand(string code, string name, string alloy, InstrumentSort sort, int size) =>
        new(
            string.Create(CultureInfo.InvariantCulture, $"{code}-{size:00}"),
            string.Create(CultureInfo.InvariantCulture, $"{name} {size:00}/.02, {alloy}"),
            sort,
            size,
            0.02,
            Mm(InstrumentFacts.CuttingLength.Value),
            null,
            null,
            null,
            null,
            null,
            "hand",
            null)
        {
            Basis = $"{Iso} Uses are not stated here: the maker's instructions say.",
        };

    private static InstrumentKind Tool(string code, string name, InstrumentSort sort) =>
        new(code, name, sort, null, null, null, null, null, null, null, null, null, null)
        {
            Basis = "Sizes differ by maker: the clinic enters its own.",
        };

    private static Millimetres Mm(double millimetres) => new(millimetres);

    private static SpeedRange Range(Sourced<double> speed) => new(speed.Range!.Value.Low, speed.Range.Value.High);

    private static string Beside<T>(Sourced<T> fact)
    {
        var value = fact.Range is { } range
            ? string.Create(CultureInfo.InvariantCulture, $"{range.Low}–{range.High}")
            : string.Create(CultureInfo.InvariantCulture, $"{fact.Value}");
        var standing = fact.Standing == Standing.FromMemory ? "from memory: " : string.Empty;
        var name = fact.Name.Replace(" (middle)", string.Empty, StringComparison.Ordinal);
        return $"{name}: {value} {fact.Unit} ({standing}{fact.Source}).";
    }
}
