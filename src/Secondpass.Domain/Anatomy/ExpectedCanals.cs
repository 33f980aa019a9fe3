using Secondpass.Domain.Evidence;

namespace Secondpass.Domain.Anatomy;

/// <summary>A canal that a tooth of this kind has or may have.</summary>
/// <param name="Name">Its anatomical name, such as MB2.</param>
/// <param name="Root">Its root, such as MB.</param>
/// <param name="IsUsual">Whether it is one of the canals that every such tooth is taken to have; no figure is given for it.</param>
/// <param name="Prevalence">How often it is there; null for a usual canal, and where nothing was published that is known here.</param>
/// <param name="LookTo">To which side of the usual canal it lies, in words; null when not known.</param>
public sealed record ExpectedCanal(string Name, string Root, bool IsUsual, Sourced<double?>? Prevalence, string? LookTo);

/// <summary>The canals to expect, tooth by tooth, for permanent teeth; usual anatomy is common practice, how often others are there is published.</summary>
public static class ExpectedCanals
{
    private const string Palatal = "palatal";
    private const string Lingual = "lingual";

    /// <summary>The canals to expect in a tooth, root by root.</summary>
    /// <param name="tooth">The tooth.</param>
    /// <returns>Usual canals and others; one usual canal, named Canal, for teeth about which nothing more is known here.</returns>
    public static IReadOnlyList<ExpectedCanal> Of(ToothNumber tooth)
    {
        var (quadrant, position) = (tooth.Number / 10, tooth.Number % 10);
        return (quadrant, position) switch
        {
            (1 or 2, 6) => UpperMolar(CanalAnatomy.SecondMesiobuccalFirstMolar),
            (1 or 2, 7) => UpperMolar(CanalAnatomy.SecondMesiobuccalSecondMolar),
            (1 or 2, 8) => UpperMolar(CanalAnatomy.SecondMesiobuccalThirdMolar),
            (1 or 2, 4) =>
            [
                Usual("B", "B"), Other("P", "P", CanalAnatomy.TwoForaminaUpperFirstPremolar, Palatal),
                Other("DB", "DB", CanalAnatomy.ThirdRootUpperFirstPremolar, "distal of the buccal canal"),
            ],
            (1 or 2, 5) => [Usual("B", Only), Other("P", Only, CanalAnatomy.SecondUpperSecondPremolar, Palatal)],
            (1 or 2, <= 3) => [Usual(OnlyCanal, Only), Other("Canal 2", Only, CanalAnatomy.SecondUpperFrontTooth, null)],
            (3 or 4, 1) => Front(CanalAnatomy.SecondLowerCentralIncisor),
            (3 or 4, 2) => Front(CanalAnatomy.SecondLowerLateralIncisor),
            (3 or 4, 3) => Front(CanalAnatomy.SecondLowerCanine),
            (3 or 4, 4) => [Usual("B", Only), Other("L", Only, CanalAnatomy.SecondLowerFirstPremolar, Lingual)],
            (3 or 4, 5) => [Usual("B", Only), Other("L", Only, CanalAnatomy.SecondLowerSecondPremolar, Lingual)],
            (3 or 4, 6) =>
            [
                Usual("MB", "M"), Usual("ML", "M"), Other("MM", "M", CanalAnatomy.MiddleMesialLowerFirstMolar, "between the two mesial canals"),
                Usual("D", "D"), Other("D2", "D", CanalAnatomy.SecondDistalLowerFirstMolar, "buccal and lingual of the middle"),
                Other("DL", "DL", CanalAnatomy.ThirdRootLowerFirstMolar, "distolingual"),
            ],
            (3 or 4, 7) => [Usual("MB", "M"), Usual("ML", "M"), Usual("D", "D"), Other("D2", "D", null, null), Other("C-shape", "C", CanalAnatomy.CShapeLowerSecondMolar, null)],
            (3 or 4, 8) => [Usual("MB", "M"), Usual("ML", "M"), Usual("D", "D"), Other("D2", "D", null, null)],
            _ => [Usual(OnlyCanal, Only), Other("Canal 2", Only, null, null)],
        };
    }

    /// <summary>The root that a tooth with one root has.</summary>
    public const string Only = "Root";

    /// <summary>A root in words, such as "mesiobuccal root".</summary>
    /// <param name="root">The root's short name; another one is said as it stands.</param>
    public static string RootInWords(string root) => root switch
    {
        "MB" => "mesiobuccal root",
        "DB" => "distobuccal root",
        "P" => "palatal root",
        "B" => "buccal root",
        "M" => "mesial root",
        "D" => "distal root",
        "DL" => "distolingual root",
        "ML" => "mesiolingual root",
        "L" => "lingual root",
        "C" => "C-shaped canal",
        Only => "root",
        _ => $"root “{root}”",
    };

    /// <summary>The name of the canal of a tooth with one.</summary>
    public const string OnlyCanal = "Canal";

    /// <summary>A canal in words, such as "palatal canal".</summary>
    /// <param name="canal">The canal's name; another one is said as it stands.</param>
    public static string CanalInWords(string canal) => canal switch
    {
        "MB1" => "first mesiobuccal canal",
        "MB2" => "second mesiobuccal canal",
        "MB" => "mesiobuccal canal",
        "ML" => "mesiolingual canal",
        "MM" => "middle mesial canal",
        "DB" => "distobuccal canal",
        "DL" => "distolingual canal",
        "D" => "distal canal",
        "D2" => "second distal canal",
        "P" => "palatal canal",
        "B" => "buccal canal",
        "L" => "lingual canal",
        "C-shape" => "C-shaped canal",
        OnlyCanal => "the canal",
        "Canal 2" => "second canal",
        _ => $"canal “{canal}”",
    };

    private static ExpectedCanal[] UpperMolar(Sourced<double?> second) =>
        [Usual("MB1", "MB"), Other("MB2", "MB", second, Palatal), Usual("DB", "DB"), Usual("P", "P")];

    private static ExpectedCanal[] Front(Sourced<double?> second) => [Usual("B", Only), Other("L", Only, second, Lingual)];

    private static ExpectedCanal Usual(string name, string root) => new(name, root, IsUsual: true, null, null);

    private static ExpectedCanal Other(string name, string root, Sourced<double?>? prevalence, string? lookTo) => new(name, root, IsUsual: false, prevalence, lookTo);
}
