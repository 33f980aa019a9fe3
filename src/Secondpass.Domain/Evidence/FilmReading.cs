namespace Secondpass.Domain.Evidence;

/// <summary>The constants that reading a film from a file and choosing its scale rest on.</summary>
public static class FilmReading
{
    /// <summary>The most columns or rows that are read.</summary>
    public static Sourced<int> GreatestSide { get; } = new(
        "Greatest width or height of a film that is read",
        20_000,
        "pixels",
        null,
        "An intra-oral film of 41 mm at 0.005 mm per pixel has 8200; room is left for scanned films. Keeps a false header from taking the memory.",
        Standing.OwnChoice);

    /// <summary>The most pixels that are read.</summary>
    public static Sourced<long> GreatestPixelCount { get; } = new(
        "Greatest number of pixels of a film that is read",
        64_000_000,
        "pixels",
        null,
        "About 8000 × 8000. Keeps a false header from taking the memory.",
        Standing.OwnChoice);

    /// <summary>The most bytes that the picture may take when unpacked: pixels × channels × bytes of one value.</summary>
    public static Sourced<long> GreatestUnpackedBytes { get; } = new(
        "Greatest size of an unpacked picture that is read",
        256_000_000,
        "bytes",
        null,
        "The greatest number of pixels at 16 bits in two channels. Keeps a false header from taking the memory.",
        Standing.OwnChoice);

    /// <summary>The fewest columns and rows that are taken for a film.</summary>
    public static Sourced<int> SmallestSide { get; } = new(
        "Smallest width or height of a film that is read",
        64,
        "pixels",
        null,
        "Smaller pictures are previews: a root canal of 0.5 mm on a 31 mm film would be one pixel wide.",
        Standing.OwnChoice);

    /// <summary>The share of red in the luma of a colour.</summary>
    public static Sourced<double> RedWeight { get; } = Weight("red", 0.2126);

    /// <summary>The share of green in the luma of a colour.</summary>
    public static Sourced<double> GreenWeight { get; } = Weight("green", 0.7152);

    /// <summary>The share of blue in the luma of a colour.</summary>
    public static Sourced<double> BlueWeight { get; } = Weight("blue", 0.0722);

    /// <summary>How far two statements of a film's scale may lie apart before the dentist is told.</summary>
    public static Sourced<double> SameScaleTolerance { get; } = new(
        "Relative difference up to which two pixel sizes count as the same",
        0.01,
        "–",
        null,
        "1 % of a 20 mm canal is 0.2 mm, below the 0.5 mm to which working lengths are commonly read.",
        Standing.OwnChoice);

    /// <summary>Resolutions that programs write for screens, whatever the picture shows.</summary>
    public static Sourced<IReadOnlyList<double>> ScreenResolutions { get; } = new(
        "Resolutions that describe a screen and not a film",
        [72, 96, 120, 144, 192],
        "pixels per inch",
        null,
        "72 and 96 are the usual defaults of picture programs; 120, 144 and 192 are the same on enlarged screens. No intra-oral sensor has pixels of 0.13 to 0.35 mm.",
        Standing.CommonPractice);

    private static Sourced<double> Weight(string colour, double value) => new(
        $"Share of {colour} in the luma of a colour",
        value,
        "–",
        null,
        "Recommendation ITU-R BT.709-6 (2015), derivation of the luminance signal, applied to the values as they are encoded.",
        Standing.Published);
}
