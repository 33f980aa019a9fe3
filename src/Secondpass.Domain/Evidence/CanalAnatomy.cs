using Secondpass.Domain.Quantities;

namespace Secondpass.Domain.Evidence;

/// <summary>How often teeth have canals beyond the usual ones, in percent of teeth unless the name says otherwise. A value that is null with a range was published as a range only.</summary>
public static class CanalAnatomy
{
    /// <summary>Second canal in the mesiobuccal root of the upper first molar.</summary>
    public static Sourced<double?> SecondMesiobuccalFirstMolar { get; } = new(
        "Second canal in the mesiobuccal root of the upper first molar; range by country",
        73.8,
        "percent",
        new Interval(48.0, 97.6),
        "Martins et al., J Endod 2018;44:1641–1649, doi 10.1016/j.joen.2018.07.027: cone-beam scans, n = 5250, 21 regions, 48.0 in Venezuela to 97.6 in Belgium",
        Standing.Published);

    /// <summary>Second canal in the mesiobuccal root of the upper second molar.</summary>
    public static Sourced<double?> SecondMesiobuccalSecondMolar { get; } = new(
        "Second canal in the mesiobuccal root of the upper second molar; 95 % interval",
        39.0,
        "percent",
        new Interval(31.1, 46.9),
        "Martins et al., systematic review of 26 studies on cone-beam scans, n = 8641 (citation from memory: Arch Oral Biol 2020;113:104589)",
        Standing.Published);

    /// <summary>Second canal in the mesiobuccal root of the upper third molar.</summary>
    public static Sourced<double?> SecondMesiobuccalThirdMolar { get; } = new(
        "Second mesiobuccal canal found in upper third molars, one operator: 5 of 25",
        20,
        "percent",
        null,
        "Stropko, J Endod 1999;25:446–450",
        Standing.Published);

    /// <summary>Two canals that end apart in the upper first premolar.</summary>
    public static Sourced<double?> TwoForaminaUpperFirstPremolar { get; } = new(
        "Two foramina in the upper first premolar",
        69,
        "percent",
        null,
        "Vertucci, Oral Surg Oral Med Oral Pathol 1984;58:589–599, cleared teeth",
        Standing.Published);

    /// <summary>Third root of the upper first premolar.</summary>
    public static Sourced<double?> ThirdRootUpperFirstPremolar { get; } = new(
        "Third root of the upper first premolar; two series",
        null,
        "percent",
        new Interval(1.7, 7.0),
        "Cone-beam series: southern Iran 1.7 (n = 462, dentjods.sums.ac.ir 46216), Chennai 7.0",
        Standing.Published);

    /// <summary>Second canal of the upper second premolar.</summary>
    public static Sourced<double?> SecondUpperSecondPremolar { get; } = new(
        "More than one canal in the upper second premolar; two series, as what is left of one canal 83 and of type I 63",
        null,
        "percent",
        new Interval(17, 37),
        "Cone-beam series: Qatar, Open Dent J 2022 e2204260 (single canal 83); southern Iran, dentjods.sums.ac.ir 46216 (type I 63)",
        Standing.Published);

    /// <summary>Second canal of upper incisors and canines.</summary>
    public static Sourced<double?> SecondUpperFrontTooth { get; } = new(
        "More than one canal in upper incisors and canines",
        0,
        "percent",
        null,
        "Vertucci, Oral Surg Oral Med Oral Pathol 1984;58:589–599: all of type I among the cleared teeth examined",
        Standing.Published);

    /// <summary>Second canal of the lower central incisor.</summary>
    public static Sourced<double?> SecondLowerCentralIncisor { get; } = new(
        "Second, lingual canal of the lower central incisor; 95 % interval",
        20.4,
        "percent",
        new Interval(15.0, 25.7),
        LowerFront,
        Standing.Published);

    /// <summary>Second canal of the lower lateral incisor.</summary>
    public static Sourced<double?> SecondLowerLateralIncisor { get; } = new(
        "Second, lingual canal of the lower lateral incisor; 95 % interval",
        25.3,
        "percent",
        new Interval(20.0, 30.7),
        LowerFront,
        Standing.Published);

    /// <summary>Second canal of the lower canine.</summary>
    public static Sourced<double?> SecondLowerCanine { get; } = new(
        "Second, lingual canal of the lower canine; 95 % interval",
        5.9,
        "percent",
        new Interval(4.1, 7.7),
        LowerFront,
        Standing.Published);

    /// <summary>Second canal of the lower first premolar.</summary>
    public static Sourced<double?> SecondLowerFirstPremolar { get; } = new(
        "Two or more canals in the lower first premolar",
        24.2,
        "percent",
        null,
        "Cleghorn, Christie, Dong, J Endod 2007;33:509–516, n about 6700: one canal 75.8, two or more 24.2",
        Standing.Published);

    /// <summary>Second canal of the lower second premolar.</summary>
    public static Sourced<double?> SecondLowerSecondPremolar { get; } = new(
        "More than one canal in the lower second premolar, as what is left of one canal 91.0",
        9.0,
        "percent",
        null,
        "Cleghorn, Christie, Dong, J Endod 2007;33:1031–1037, more than 7700 teeth: one canal 91.0",
        Standing.Published);

    /// <summary>Second canal in the distal root of the lower first molar.</summary>
    public static Sourced<double?> SecondDistalLowerFirstMolar { get; } = new(
        "Second distal canal of the lower first molar; range by country",
        36.9,
        "percent",
        new Interval(16.4, 60.0),
        LowerFirstMolar,
        Standing.Published);

    /// <summary>Third, distolingual root of the lower first molar.</summary>
    public static Sourced<double?> ThirdRootLowerFirstMolar { get; } = new(
        "Third, distolingual root of the lower first molar; range by country",
        5.6,
        "percent",
        new Interval(0.9, 22.4),
        LowerFirstMolar + ". A world review of 72 studies (2022, PMID 35386547) gives 9 of teeth",
        Standing.Published);

    /// <summary>Middle mesial canal of the lower first molar.</summary>
    public static Sourced<double?> MiddleMesialLowerFirstMolar { get; } = new(
        "Middle mesial canal of the lower first molar; range over studies in the world",
        null,
        "percent",
        new Interval(0.26, 46.15),
        "Range quoted in BMC Oral Health 2020, s12903-020-01218-z; single series 1.79 (western China, n = 1174) and 14.2 (Saudi Arabia, n = 604)",
        Standing.Published);

    /// <summary>C-shaped canal of the lower second molar.</summary>
    public static Sourced<double?> CShapeLowerSecondMolar { get; } = new(
        "C-shaped canal of the lower second molar; two reviews",
        null,
        "percent",
        new Interval(13.9, 17.3),
        "von Zuben et al., J Endod 2017;43:1442–1447: 13.9 (499 of 3600), 44.0 in China; Yousefi et al. 2025, PMC12542057: 17.3 pooled",
        Standing.Published);

    /// <summary>Second mesiobuccal canals that the last treatment left unfilled.</summary>
    public static Sourced<double?> SecondMesiobuccalUnfilled { get; } = new(
        "Second mesiobuccal canals seen in filled upper molars that were not filled",
        83.5,
        "percent",
        null,
        "Carrion et al., Restor Dent Endod 2022;47:e37, doi 10.5395/rde.2022.47.e37: n = 1000 roots on cone-beam scans",
        Standing.Published);

    /// <summary>Share of second mesiobuccal canals that a cone-beam scan shows.</summary>
    public static Sourced<double> ConeBeamSensitivity { get; } = new(
        "Sensitivity of a cone-beam scan for a second mesiobuccal canal",
        0.88,
        "share",
        null,
        Scan,
        Standing.Published);

    /// <summary>Share of roots without one in which a cone-beam scan shows none.</summary>
    public static Sourced<double> ConeBeamSpecificity { get; } = new(
        "Specificity of a cone-beam scan for a second mesiobuccal canal",
        0.88,
        "share",
        null,
        Scan,
        Standing.Published);

    /// <summary>The greatest length from a reference point to a canal's end that is taken for real.</summary>
    public static Sourced<double> GreatestLengthMillimetres { get; } = new(
        "Greatest distance from a reference point to a canal's end that is taken in",
        35,
        "mm",
        null,
        "The longest average tooth is a canine of about 26 mm; room is left for the longest single teeth. Keeps a slip of the finger out.",
        Standing.OwnChoice);

    /// <summary>The greatest distance of a filling from the middle of its root that is taken for real.</summary>
    public static Sourced<double> GreatestOffCentreMillimetres { get; } = new(
        "Greatest distance of a filling from the middle of its root that is taken in",
        5,
        "mm",
        null,
        "Half the width of the widest roots. Keeps a slip of the finger out.",
        Standing.OwnChoice);

    private const string LowerFront = "Martins et al., systematic review on cone-beam scans, n = 40 784 (citation from memory: Arch Oral Biol 2020)";

    private const string LowerFirstMolar = "Martins et al., J Endod 2022;48:223–233, doi 10.1016/j.joen.2021.11.009: cone-beam scans, n = 5750, 23 regions";

    private const string Scan = "PMC5911295: 147 extracted teeth, sections as truth";

    /// <summary>How likely a second mesiobuccal canal still is when a cone-beam scan shows none, by Bayes' rule.</summary>
    /// <param name="priorPercent">How often it is there before the scan, in percent.</param>
    /// <returns>The same after it, in percent.</returns>
    public static double AfterNotSeenPercent(double priorPercent)
    {
        var there = priorPercent * (1 - ConeBeamSensitivity.Value);
        var notThere = (100 - priorPercent) * ConeBeamSpecificity.Value;
        return 100 * there / (there + notThere);
    }
}
