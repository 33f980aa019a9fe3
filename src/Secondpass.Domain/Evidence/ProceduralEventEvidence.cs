using Secondpass.Domain.Quantities;

namespace Secondpass.Domain.Evidence;

/// <summary>What is published about events during treatment.</summary>
public static class ProceduralEventEvidence
{
    /// <summary>Share of teeth healed with a fragment left in, where there was a lesion, in percent.</summary>
    public static Sourced<double> HealedWithFragmentAndLesionPercent { get; } = new(
        "Healed with a separated fragment left in, lesion before treatment",
        80.7,
        "%",
        null,
        "Panitvisai et al., J Endod 2010;36:775–780: 199 cases of 2 studies; no significant effect of the fragment",
        Standing.Published);

    /// <summary>Share of teeth healed with a fragment left in, where there was no lesion, in percent.</summary>
    public static Sourced<double> HealedWithFragmentNoLesionPercent { get; } = new(
        "Healed with a separated fragment left in, no lesion before treatment",
        92.4,
        "%",
        null,
        "Panitvisai et al., J Endod 2010;36:775–780: 199 cases of 2 studies; no significant effect of the fragment",
        Standing.Published);

    /// <summary>Share of attempts at removing a fragment that failed, in percent.</summary>
    public static Sourced<double> FragmentRemovalFailedPercent { get; } = new(
        "Removal of a separated fragment that failed",
        15.2,
        "%",
        null,
        "Healthcare 2024;12:1390, doi 10.3390/healthcare12141390: 172 of 1133 teeth",
        Standing.Published);

    /// <summary>Share of attempts at removing a fragment that perforated the root, in percent.</summary>
    public static Sourced<double> FragmentRemovalPerforatedPercent { get; } = new(
        "Removal of a separated fragment that perforated the root",
        4.9,
        "%",
        null,
        "Healthcare 2024;12:1390, doi 10.3390/healthcare12141390: 55 of 1133 teeth",
        Standing.Published);

    /// <summary>Share of perforations repaired without surgery that healed, in percent.</summary>
    public static Sourced<double> PerforationRepairedPercent { get; } = new(
        "Perforation repaired without surgery, healed",
        72.5,
        "%",
        new Interval(72.5, 90.5),
        "Siew, Lee, Cheung, J Endod 2015;41:1795–1804, 12 studies pooled; a later series found 90.5 %; worse with a lesion beside it",
        Standing.Published);
}
