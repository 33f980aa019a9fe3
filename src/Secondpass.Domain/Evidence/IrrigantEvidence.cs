namespace Secondpass.Domain.Evidence;

/// <summary>What is known of irrigants that meet in a canal.</summary>
public static class IrrigantEvidence
{
    private const string Review = "Rossi-Fedele et al., Antagonistic interactions between sodium hypochlorite, chlorhexidine, EDTA, and citric acid, J Endod 2012, PII S0099-2399(12)00060-X: review of 19 laboratory studies";

    /// <summary>Hypochlorite with chlorhexidine.</summary>
    public static Sourced<string> HypochloriteWithChlorhexidine { get; } = new(
        "Hypochlorite with chlorhexidine",
        "brown precipitate, discoloration, less permeable dentine",
        "–",
        null,
        Review + ". Whether it holds para-chloroaniline is disputed: not shown in PMC7340001, shown in PMC6385576 and J Endod 2014;40:2036",
        Standing.Published);

    /// <summary>Hypochlorite after EDTA or citric acid.</summary>
    public static Sourced<string> HypochloriteWithChelator { get; } = new(
        "Hypochlorite with EDTA or citric acid left in",
        "loss of free chlorine, less tissue dissolved",
        "–",
        null,
        Review + "; also the review PMC5666953",
        Standing.Published);

    /// <summary>Citric acid after hypochlorite.</summary>
    public static Sourced<string> HypochloriteWithAcid { get; } = new(
        "Citric acid on hypochlorite left in",
        "pH falls to 1.8–4.3: chlorine gas is set free, far more than with EDTA (pH 8)",
        "–",
        null,
        Review,
        Standing.Published);

    /// <summary>Hypochlorite with hydrogen peroxide.</summary>
    public static Sourced<string> HypochloriteWithPeroxide { get; } = new(
        "Hypochlorite with hydrogen peroxide",
        "oxygen is set free; both are spent",
        "–",
        null,
        "Taught and avoided at the chair; no study looked up",
        Standing.CommonPractice);

    /// <summary>Chlorhexidine with EDTA.</summary>
    public static Sourced<string> ChlorhexidineWithEdta { get; } = new(
        "Chlorhexidine with EDTA",
        "precipitate of the two",
        "–",
        null,
        Review,
        Standing.Published);
}
