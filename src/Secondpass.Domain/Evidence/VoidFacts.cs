namespace Secondpass.Domain.Evidence;

/// <summary>How well voids of a filling are read off a film.</summary>
public static class VoidFacts
{
    /// <summary>Half of the 95 % interval of a void's length, in mm.</summary>
    public static Sourced<double> LengthHalfInterval { get; } = new(
        "Half of the 95 % interval of a void's length on a film",
        0.45,
        "mm",
        null,
        "146 voids found on simulated films of seeds 3000 to 3159, each against the length along which half of its greatest loss is missing",
        Standing.OwnChoice);

    /// <summary>Half of the 95 % interval of the share of the section that a void takes, in percentage points.</summary>
    public static Sourced<double> MissingHalfInterval { get; } = new(
        "Half of the 95 % interval of the share of a filling's section that is missing at a void",
        14,
        "percentage points",
        null,
        "The same voids",
        Standing.OwnChoice);
}
