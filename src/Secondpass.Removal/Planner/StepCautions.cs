using System.Globalization;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Instruments;

namespace Secondpass.Removal.Planner;

/// <summary>The usual cautions beside a step.</summary>
internal static class StepCautions
{
    /// <summary>What stands under every plan.</summary>
    public const string Follow = "Follow the makers' instructions, local rules and licensed practice.";

    /// <summary>The caution at a post.</summary>
    public static IReadOnlyList<string> Post { get; } =
    [
        DryBurst,
        "One root broke in 1600 posts (Abbott, Int Endod J 2002;35:63–67); more vertical fractures were seen later where a post had been taken out (Riis et al., J Endod 2018;44).",
    ];

    /// <summary>Cautions by the sort of instrument.</summary>
    public static IReadOnlyList<string> Of(InstrumentSort sort) => sort switch
    {
        InstrumentSort.UltrasonicFile => [DryBurst, "Only where you see its tip. An implanted device: ask first."],
        InstrumentSort.RetreatmentRotary => ["Look at the flutes before each use. In curved canals 3 of 18 files separated while filling was removed (Braz Dent J, laboratory): never press."],
        InstrumentSort.AdaptiveCoreFile => ["Moving up and down, never held at one depth. How much dentine it takes isn't published."],
        InstrumentSort.OrificeOpener => ["Away from the furcation."],
        InstrumentSort.HandFile => ["By feel: no force. A file that only turns where it stands makes the obstacle worse."],
        InstrumentSort.HedstromFile => ["Pull, don't turn past a quarter: a Hedström file that holds separates when it is turned on."],
        InstrumentSort.HeatedPlugger => ["Short touches, then off: a tip set to 200 °C was measured at 177–325 °C (Restor Dent Endod 2018), and bone is harmed by 47 °C for 1 min."],
        InstrumentSort.ExtractorTube => ["Leave dentine around the point: make no trough deeper than the grip needs."],
        _ => [],
    };

    private static string DryBurst => string.Create(
        CultureInfo.InvariantCulture,
        $"Coolant on. Dry: {PlanFacts.DryBurstSeconds.Value:0} s at most, then a pause with coolant; heat reaches ligament and bone.");
}
