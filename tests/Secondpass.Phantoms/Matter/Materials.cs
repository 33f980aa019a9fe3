using static Secondpass.Phantoms.Matter.Element;

namespace Secondpass.Phantoms.Matter;

/// <summary>The substances of the simulated films.</summary>
/// <remarks>
/// Chemical compounds follow from their formulae. Tissues after ICRU Report 44 as tabulated in NISTIR 5632, table 2.
/// Everything marked "from memory" is a textbook value that was not read in a publication.
/// </remarks>
public static class Materials
{
    private static readonly Material Hydroxyapatite = new(
        "hydroxyapatite", 3.16, (Calcium, 0.3989), (Phosphorus, 0.1850), (Oxygen, 0.4141), (Hydrogen, 0.0020));

    private static readonly Material Collagen = new(
        "collagen", 1.35, (Carbon, 0.53), (Nitrogen, 0.17), (Oxygen, 0.23), (Hydrogen, 0.07));

    private static readonly Material Resin = new(
        "methacrylate resin", 1.20, (Carbon, 0.665), (Hydrogen, 0.071), (Oxygen, 0.264));

    private static readonly Material CalciumHydroxide = new(
        "calcium hydroxide", 2.21, (Calcium, 0.5409), (Oxygen, 0.4319), (Hydrogen, 0.0272));

    private static readonly Material BariumSulfate = new(
        "barium sulfate", 4.50, (Barium, 0.5884), (Sulfur, 0.1374), (Oxygen, 0.2742));

    private static readonly Material ZincOxide = new("zinc oxide", 5.606, (Zinc, 0.8034), (Oxygen, 0.1966));

    private static readonly Material Isoprene = new("gutta-percha, the polymer", 0.95, (Carbon, 0.8816), (Hydrogen, 0.1184));

    private static readonly Material Wax = new("wax", 0.95, (Carbon, 0.8563), (Hydrogen, 0.1437));

    private static readonly Material BariumGlass = new(
        "barium glass", 2.7, (Silicon, 0.327), (Oxygen, 0.497), (Barium, 0.112), (Element.Aluminium, 0.053), (Magnesium, 0.011));

    /// <summary>Water, and every irrigant: their salts change its attenuation too little to show.</summary>
    public static Material Water { get; } = new("water", 1.00, (Hydrogen, 0.111898), (Oxygen, 0.888102));

    /// <summary>Soft tissue: pulp, ligament, gum, cheek, marrow.</summary>
    public static Material SoftTissue { get; } = new(
        "soft tissue", 1.06,
        (Hydrogen, 0.102), (Carbon, 0.143), (Nitrogen, 0.034), (Oxygen, 0.708), (Sodium, 0.002),
        (Phosphorus, 0.003), (Sulfur, 0.003), (Chlorine, 0.002), (Potassium, 0.003));

    /// <summary>Cortical bone; trabeculae are the same substance in less volume.</summary>
    public static Material Bone { get; } = new(
        "cortical bone", 1.92,
        (Hydrogen, 0.034), (Carbon, 0.155), (Nitrogen, 0.042), (Oxygen, 0.435), (Sodium, 0.001), (Magnesium, 0.002),
        (Phosphorus, 0.103), (Sulfur, 0.003), (Calcium, 0.225));

    /// <summary>Dentine: 70 % mineral, 20 % organic, 10 % water by mass, 2.14 g/cm³ (from memory).</summary>
    public static Material Dentine { get; } = Material.Mixture("dentine", 2.14, (Hydroxyapatite, 0.70), (Collagen, 0.20), (Water, 0.10));

    /// <summary>Enamel: 96 % mineral, 1 % organic, 3 % water by mass, 2.95 g/cm³ (from memory).</summary>
    public static Material Enamel { get; } = Material.Mixture("enamel", 2.95, (Hydroxyapatite, 0.96), (Collagen, 0.01), (Water, 0.03));

    /// <summary>Root filling: 20 % gutta-percha, 66 % zinc oxide, 11 % barium sulfate, 3 % wax by mass; density of the volumes added up, 2.60 g/cm³.</summary>
    public static Material Filling { get; } = Material.Mixture(
        "root filling", null, (Isoprene, 0.20), (ZincOxide, 0.66), (BariumSulfate, 0.11), (Wax, 0.03));

    /// <summary>Root filling as makes differ, the rest being zinc oxide.</summary>
    /// <param name="organic">
    /// Gutta-percha with 3 % of wax, a share by mass: 0.18 to 0.24 in most of eight makes (Braz Oral Res 2005;19:193–197) and 0.23 in
    /// five (J Endod 1977;3:304–307).
    /// </param>
    /// <param name="bariumSulfate">Barium sulfate, a share by mass: none in some makes (the former), 0.11 in an older mean (J Dent Res 1975;54:921–925).</param>
    /// <param name="solid">Share of the volume that is not pores: 1 for none.</param>
    public static Material FillingOf(double organic, double bariumSulfate, double solid)
    {
        var whole = Material.Mixture(
            "root filling", null, (Isoprene, organic - 0.03), (ZincOxide, 1 - organic - bariumSulfate), (BariumSulfate, bariumSulfate), (Wax, 0.03));
        return new Material(whole.Name, whole.GramsPerCubicCentimetre * solid, [.. whole.MassFractions.Select(part => (part.Key, part.Value))]);
    }

    /// <summary>Resin composite: 70 % barium glass by mass (from memory).</summary>
    public static Material Composite { get; } = Material.Mixture("composite", null, (BariumGlass, 0.70), (Resin, 0.30));

    /// <summary>Amalgam: equal masses of mercury and a silver, tin and copper alloy, 11 g/cm³ (from memory).</summary>
    public static Material Amalgam { get; } = new("amalgam", 11.0, (Mercury, 0.50), (Silver, 0.30), (Tin, 0.14), (Copper, 0.06));

    /// <summary>Metal of a cast crown: nickel and chromium, 8.2 g/cm³ (from memory).</summary>
    public static Material CrownMetal { get; } = new("crown metal", 8.2, (Nickel, 0.77), (Chromium, 0.23));

    /// <summary>Stainless steel of hand instruments and clamps: iron with 18 % chromium and 8 % nickel, 7.9 g/cm³ (from memory).</summary>
    public static Material Steel { get; } = new("stainless steel", 7.9, (Iron, 0.74), (Chromium, 0.18), (Nickel, 0.08));

    /// <summary>Nickel-titanium of rotary instruments: 56 % nickel by mass, 6.45 g/cm³ (from memory).</summary>
    public static Material NickelTitanium { get; } = new("nickel-titanium", 6.45, (Nickel, 0.56), (Titanium, 0.44));

    /// <summary>Calcium hydroxide paste, equal masses of powder and water: a dressing about as radiopaque as dentine.</summary>
    public static Material PlainDressing { get; } = Material.Mixture("calcium hydroxide paste", null, (CalciumHydroxide, 0.50), (Water, 0.50));

    /// <summary>Calcium hydroxide paste with barium sulfate: a dressing that shows almost as a filling does.</summary>
    public static Material RadiopaqueDressing { get; } = Material.Mixture(
        "calcium hydroxide paste with barium sulfate", null, (CalciumHydroxide, 0.40), (BariumSulfate, 0.25), (Water, 0.35));

    /// <summary>Aluminium of step wedges: what radiopacity is compared with.</summary>
    public static Material Aluminium { get; } = new("aluminium", 2.699, (Element.Aluminium, 1.0));

    /// <summary>All of them.</summary>
    public static IReadOnlyList<Material> All { get; } =
    [
        Water, SoftTissue, Bone, Dentine, Enamel, Filling, Composite, Amalgam, CrownMetal, Steel, NickelTitanium,
        PlainDressing, RadiopaqueDressing, Aluminium,
    ];
}
