using Secondpass.Domain.Quantities;

namespace Secondpass.Domain.Evidence;

/// <summary>Dentine walls: what is published, and the limits that a plan keeps to.</summary>
public static class WallFacts
{
    /// <summary>The least wall that a plan leaves.</summary>
    public static Sourced<double> LeastWallLeft { get; } = new(
        "Wall of dentine left, at least",
        0.5,
        "mm",
        new Interval(0.3, 1.0),
        "0.3 mm is the least recalled (Lim, Stock 1987, from memory) with 0.2 mm by which a wall is misread on a film; 1 mm is also asked for (Caputo, Standlee 1976, from memory)",
        Standing.OwnChoice);

    /// <summary>The wall under which a plan says so.</summary>
    public static Sourced<double> ThinWall { get; } = new(
        "Wall of dentine under which a step says that it is thin",
        1.0,
        "mm",
        null,
        "Caputo, Standlee 1976, recalled",
        Standing.FromMemory);

    /// <summary>The most dentine that a step may take from each side.</summary>
    public static Sourced<double> GreatestLossPerSide { get; } = new(
        "Dentine cut on each side, at most",
        0.20,
        "mm",
        null,
        "No published limit was found. In a canal filled to 30/.04, taper .06 of the same tip takes 0.16 mm a side at 16 mm and .08 takes 0.32 mm: the limit lies between, as .08 and .12 are left out to spare dentine",
        Standing.OwnChoice);

    /// <summary>By how much a film is taken to overstate the wall towards the furcation.</summary>
    public static Sourced<double> ConcavityAllowance { get; } = new(
        "Allowance for the concavity that a film doesn't show, taken off the wall towards the furcation",
        0.3,
        "mm",
        null,
        "No published mean was found of how much films overstate it. About one quarter of the 1.1–1.3 mm of a mesial root of a lower molar (De-Deus et al. 2019; Harris et al. 2013). The clinic can change it.",
        Standing.OwnChoice);

    /// <summary>Smallest dentine at the mesiobuccal canal of lower molars, for context.</summary>
    public static Sourced<double> LowerMolarMesiobuccal { get; } = new(
        "Smallest dentine at the mesiobuccal canal of lower molars, to 7 mm below the furcation, untreated (mean; range)",
        1.13,
        "mm",
        new Interval(0.67, 1.93),
        "De-Deus et al., Int Endod J 2019;52:1501–1507, doi 10.1111/iej.13141: 50 teeth, SD 0.21",
        Standing.Published);

    /// <summary>Smallest dentine at the mesiolingual canal of lower molars, for context.</summary>
    public static Sourced<double> LowerMolarMesiolingual { get; } = new(
        "Smallest dentine at the mesiolingual canal of lower molars, to 7 mm below the furcation, untreated (mean; range)",
        1.10,
        "mm",
        new Interval(0.77, 1.89),
        "De-Deus et al., Int Endod J 2019;52:1501–1507, doi 10.1111/iej.13141: 50 teeth, SD 0.21",
        Standing.Published);

    /// <summary>Furcal wall of the mesial root, for context.</summary>
    public static Sourced<double> LowerMolarFurcal { get; } = new(
        "Least wall towards the furcation of the mesial root of lower first molars (mean)",
        1.28,
        "mm",
        null,
        "Harris et al., J Endod 2013;39:1374–1378: 22 teeth",
        Standing.Published);
}
