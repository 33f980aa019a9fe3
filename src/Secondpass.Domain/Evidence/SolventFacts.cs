using Secondpass.Domain.Quantities;

namespace Secondpass.Domain.Evidence;

/// <summary>What is published of solvents for gutta-percha: mixed, and different from one to the next.</summary>
public static class SolventFacts
{
    private const string Bond = "Erdemir, Eldeniz, Belli, Pashley, J Endod 2004;30:589–592: resin to root dentine after 60 s";
    private const string PushOut = "Topçuoğlu et al., Int Endod J 2014;47:1100–1106, doi 10.1111/iej.12257: 210 teeth, 5 min";
    private const string Dissolving = "Tummala et al.: a sample of gutta-percha in 5 ml";
    private const string Oils = "Kaplowitz, J Endod 1990;16:539–540: 15 mg at 37 °C, 15 min";

    /// <summary>Bond after water.</summary>
    public static Sourced<double> BondAfterWater { get; } = new("Bond of resin to root dentine after water", 23.9, "MPa", null, Bond, Standing.Published);

    /// <summary>Bond after chloroform.</summary>
    public static Sourced<double> BondAfterChloroform { get; } = new("Bond of resin to root dentine after chloroform", 18.3, "MPa", null, Bond, Standing.Published);

    /// <summary>Bond after halothane.</summary>
    public static Sourced<double> BondAfterHalothane { get; } = new("Bond of resin to root dentine after halothane", 17, "MPa", null, Bond, Standing.Published);

    /// <summary>Push-out of sealers after chloroform.</summary>
    public static Sourced<string> PushOutAfterChloroform { get; } = new("Push-out strength of sealers after chloroform", "lower for every sealer (P < .001)", "–", null, PushOut, Standing.Published);

    /// <summary>Push-out of sealers after the oils.</summary>
    public static Sourced<string> PushOutAfterOils { get; } = new("Push-out strength of sealers after eucalyptol and orange oil", "no effect", "–", null, PushOut, Standing.Published);

    /// <summary>Dissolving in chloroform.</summary>
    public static Sourced<double> DissolvesInChloroform { get; } = new("Gutta-percha dissolved in chloroform after", 4, "min", null, Dissolving, Standing.Published);

    /// <summary>Dissolving in halothane.</summary>
    public static Sourced<double> DissolvesInHalothane { get; } = new("Gutta-percha dissolved in halothane after", 13.1, "min", null, Dissolving, Standing.Published);

    /// <summary>Dissolving in xylene.</summary>
    public static Sourced<double> DissolvesInXylene { get; } = new("Gutta-percha dissolved in xylene after", 33.5, "min", null, Dissolving, Standing.Published);

    /// <summary>Dissolving in eucalyptol.</summary>
    public static Sourced<string> DissolvesInEucalyptol { get; } = new("Gutta-percha dissolved in eucalyptol", "not within 45 min", "–", null, Dissolving, Standing.Published);

    /// <summary>Dissolving in oils at body temperature, in conflict with the row above.</summary>
    public static Sourced<string> DissolvesInOilsWarm { get; } = new("Gutta-percha dissolved in oils at 37 °C within 15 min (in conflict with eucalyptol at room temperature)", "half or more in all oils; wholly in turpentine and chloroform", "–", null, Oils, Standing.Published);

    /// <summary>Time gained by eucalyptol.</summary>
    public static Sourced<string> TimeWithEucalyptol { get; } = new("Removal time with eucalyptol", "no significant gain in any group", "–", null, "Hülsmann, Bluhm, Int Endod J 2004;37:468–476", Standing.Published);

    /// <summary>Time with a solvent on the whole, in conflict.</summary>
    public static Sourced<string> TimeWithSolvent { get; } = new("Removal time with a solvent", "shorter to length, longer for the whole removal", "–", null, "Ma et al., J Endod 2012;38:1571–1576 (micro-CT, oval incisors)", Standing.Published);

    /// <summary>Cleaning with a solvent.</summary>
    public static Sourced<string> CleaningWithSolvent { get; } = new("Cleaning with a solvent, 22 micro-CT studies", "helps depth, harms cleaning", "–", null, "Rossi-Fedele, Ahmed, J Endod 2017;43:520–526", Standing.Published);

    /// <summary>Hardness of dentine.</summary>
    public static Sourced<string> Hardness { get; } = new("Hardness of dentine with solvent time", "falls, most with chloroform; ultrasonics add to it", "–", null, "Nalci et al., JODDD 2021;15:256–261", Standing.Published);

    /// <summary>How long chloroform may stay before it is said.</summary>
    public static Sourced<double> ChloroformMinutes { get; } = new("Minutes of chloroform from which it is said", 2, "min", new Interval(1, 5), "Between 60 s (Erdemir et al. 2004) and 5 min (Topçuoğlu et al. 2014), both with an effect on bonding", Standing.OwnChoice);
}
