namespace Secondpass.Domain.Evidence;

/// <summary>What a new radiopaque patch outside the old filling has to be like before it is reported; choices of this product.</summary>
public static class MovedMaterialLimits
{
    /// <summary>How far beyond the canal's end it is looked for.</summary>
    public static Sourced<double> LookedForBeyondEnd { get; } = new(
        "New patches of filling are looked for beyond the canal's end as far as",
        3,
        "mm",
        null,
        "What lies farther off is not told from other roots and bone",
        Standing.OwnChoice);

    /// <summary>Thickness from which a place belongs to a patch.</summary>
    public static Sourced<double> Edge { get; } = new(
        "Thickness along the ray from which a place belongs to a new patch",
        0.05,
        "mm",
        null,
        "A quarter of what its thickest place must have: about where the blur of a film ends",
        Standing.OwnChoice);

    /// <summary>Thickness that a patch must have somewhere.</summary>
    public static Sourced<double> LeastThickness { get; } = new(
        "Least thickness along the ray, where a new patch is thickest",
        0.20,
        "mm",
        null,
        "Set on simulated films with seeds 3000 to 3159, where bone's own texture and the films' match reached less: docs/models/what-is-left.md",
        Standing.OwnChoice);

    /// <summary>How deep a patch must be for its area.</summary>
    public static Sourced<double> LeastDepth { get; } = new(
        "Least thickness along the ray, where a new patch is thickest, over the square root of its area",
        0.5,
        "–",
        null,
        "A piece that is about as deep as it is wide has 0.6; a root's or bone's edge that moved is wide and shallow, and reached 0.45 on simulated films with seeds 3000 to 3078: docs/models/what-is-left.md",
        Standing.OwnChoice);

    /// <summary>The same for a patch in the canal.</summary>
    public static Sourced<double> LeastDepthInCanal { get; } = new(
        "The same for a patch in the canal, above or below the old filling",
        0.42,
        "–",
        null,
        "A piece in the canal is no deeper than the canal and may be long; it reached 0.37 to 0.62 where it is 1.0 × 0.5 mm, other things 0.39, on simulated films with seeds 701 to 779 and 3000 to 3079: docs/models/what-is-left.md",
        Standing.OwnChoice);

    /// <summary>Area from which a piece beyond the end was mostly found.</summary>
    public static Sourced<double> MostlyFound { get; } = new(
        "Projected area of a piece beyond the canal's end of which nine of ten were found on simulated films; in the canal no size was",
        0.4,
        "mm²",
        null,
        "1.0 × 0.5 mm: 9 of 10; 0.8 × 0.4 mm: 8 of 10; above and below the old filling 3 to 6 of 10 of the two largest: docs/models/what-is-left.md",
        Standing.OwnChoice);

    /// <summary>Area that a patch must have.</summary>
    public static Sourced<double> LeastArea { get; } = new(
        "Least projected area of a new patch",
        0.10,
        "mm²",
        null,
        "Set on simulated films with seeds 3000 to 3159: docs/models/what-is-left.md",
        Standing.OwnChoice);
}
