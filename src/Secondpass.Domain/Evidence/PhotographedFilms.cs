namespace Secondpass.Domain.Evidence;

/// <summary>The constants that straightening a photograph of a film rests on.</summary>
public static class PhotographedFilms
{
    private const string Sizes = "ISO 3665, size and designation from memory: the standard was not at hand. Measure the film where it matters";

    /// <summary>The film of size 0, short and long side.</summary>
    public static Sourced<IReadOnlyList<double>> Size0 { get; } = Size("0", 22, 35);

    /// <summary>The film of size 1.</summary>
    public static Sourced<IReadOnlyList<double>> Size1 { get; } = Size("1", 24, 40);

    /// <summary>The film of size 2, the most common.</summary>
    public static Sourced<IReadOnlyList<double>> Size2 { get; } = Size("2", 31, 41);

    /// <summary>The film of size 3, for bitewings.</summary>
    public static Sourced<IReadOnlyList<double>> Size3 { get; } = Size("3", 27, 54);

    /// <summary>The film of size 4, for the occlusal view.</summary>
    public static Sourced<IReadOnlyList<double>> Size4 { get; } = Size("4", 57, 76);

    /// <summary>Standard deviation of where a rounded corner is marked, beside that of the click.</summary>
    public static Sourced<double> CornerDeviation { get; } = new(
        "Standard deviation of where the corner of a film is marked, in each direction, beside that of the click",
        0.2,
        "mm",
        null,
        "An assumption of this product: a film's corners are rounded, and where its edges would meet is judged by eye",
        Standing.OwnChoice);

    /// <summary>Standard deviation of a side of a film from its nominal size.</summary>
    public static Sourced<double> SideDeviation { get; } = new(
        "Standard deviation of a film's side from its nominal size",
        0.25,
        "mm",
        null,
        "An assumption of this product: 0.5 mm either way in 95 of 100",
        Standing.OwnChoice);

    /// <summary>How pointed a corner may be seen.</summary>
    public static Sourced<double> LeastCorner { get; } = new(
        "Least angle at which the corner of a film is seen; the greatest is 180° less this",
        45,
        "degrees",
        null,
        "A right angle is seen so from about 65° beside the vertical: four marks that make a sharper one lie nearly on a line or on something else",
        Standing.OwnChoice);

    /// <summary>How far the sides' ratio as seen may be from that of the size.</summary>
    public static Sourced<double> GreatestRatioChange { get; } = new(
        "Greatest factor between the ratio of a film's sides as seen and as its size has them",
        1.5,
        "1",
        null,
        "A photograph taken 48° beside the vertical shortens one side to two thirds; beyond it the wrong size was chosen",
        Standing.OwnChoice);

    /// <summary>The least factor between long and short side by which they are told apart.</summary>
    public static Sourced<double> LeastRatioSeen { get; } = new(
        "Least ratio of a film's sides as seen at which the long one is known",
        1.05,
        "1",
        null,
        "Nearer to a square, which side is the long one can't be told from four marks",
        Standing.OwnChoice);

    /// <summary>The optical density that is stored as black.</summary>
    public static Sourced<double> GreatestDensity { get; } = new(
        "Optical density, over the photograph's white, that is stored as black",
        3,
        "1",
        null,
        "The least values of an 8-bit picture after IEC 61966-2-1: 4 of 255 stand for a light of 0.0012, a density of 2.9",
        Standing.OwnChoice);

    private static Sourced<IReadOnlyList<double>> Size(string name, double shortMillimetres, double longMillimetres) =>
        new($"Short and long side of an intra-oral film of size {name}", [shortMillimetres, longMillimetres], "mm", null, Sizes, Standing.FromMemory);
}
