namespace Secondpass.Domain.Evidence;

/// <summary>Where measures on a film stop making sense; choices of this product.</summary>
public static class MeasurementLimits
{
    /// <summary>Least height of an arc over its chord for which a radius is given, in mm.</summary>
    public static Sourced<double> LeastSagitta { get; } = new(
        "Least sagitta of a canal's curve for an angle and radius after Pruett",
        0.15,
        "mm",
        null,
        "A path is placed to about 0.02 mm; below five times that height a radius is mostly noise",
        Standing.OwnChoice);

    /// <summary>Least turn for which a radius is given, in degrees.</summary>
    public static Sourced<double> LeastTurn { get; } = new(
        "Least angle of a canal's curve for an angle and radius after Pruett",
        15,
        "degrees",
        null,
        "Below it the two straight parts can't be told apart on a film",
        Standing.OwnChoice);

    /// <summary>Least thickness along the ray that counts as residue in areas, in mm.</summary>
    public static Sourced<double> LeastResidueThickness { get; } = new(
        "Least thickness of residue along the ray that counts in its projected area",
        0.10,
        "mm",
        null,
        "About the least that stands out from noise on a well exposed film (7.3 mm of aluminium per mm of gutta-percha: Katz et al., J Endod 1990;16:211–213)",
        Standing.OwnChoice);
}
