using Secondpass.Domain.Quantities;

namespace Secondpass.Domain.Evidence;

/// <summary>Published signs that are read off a film.</summary>
public static class FilmSigns
{
    /// <summary>Difference between the two distances from a filling's edges to the root's surfaces, in mm, from which a filling counts as off centre.</summary>
    public static Sourced<double> OffCentreDifference { get; } = new(
        "Filling off centre in its root: difference of its distances to the two root surfaces",
        0.3,
        "mm",
        null,
        "Partnoy, Vokal, Hoen: The relationship between radiographic asymmetry of root canal obturations and the presence of unfilled canals. Oral Health (Canada). Extracted teeth, sections as truth: difference of 0.3 mm or more associated with an unfilled canal",
        Standing.Published);

    /// <summary>Length loss of filling towards the radiographic apex that counts as adequate, in mm.</summary>
    public static Sourced<double> AdequateShortOfEnd { get; } = new(
        "Filling end short of the radiographic apex, at most",
        2.0,
        "mm",
        new Interval(0, 2),
        "Liang et al., Clin Oral Investig 2012;16:1619–1626, doi 10.1007/s00784-011-0671-3: 0–2 mm from the radiographic apex without voids",
        Standing.Published);
}
