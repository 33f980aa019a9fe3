using System.Text.Json;
using Secondpass.Job.Documents;

namespace Secondpass.Outside;

/// <summary>Pairs of simulated films from the second generator, which shares neither code nor physics with the library of phantoms.</summary>
/// <remarks>The script is <c>Python/second_generator.py</c>; its options, such as <c>--clean</c> or <c>--tooth 36</c>, are passed on.</remarks>
internal static class SecondGenerator
{
    private static readonly JsonSerializerOptions Json = new() { PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower };

    /// <summary>Makes the pair of one seed in a folder.</summary>
    /// <param name="seed">What everything in the pair follows from.</param>
    /// <param name="folder">Where its four files go; made when missing.</param>
    /// <param name="options">Further words for the script.</param>
    public static SimulatedPair Make(int seed, string folder, params string[] options)
    {
        PythonRunner.Run("second_generator.py", ["--seed", Text(seed), "--out", folder, .. options]);
        return Read(folder);
    }

    /// <summary>Makes pairs of several seeds in a row, two at a time, in sub-folders.</summary>
    /// <param name="firstSeed">The seed of the first pair.</param>
    /// <param name="count">How many.</param>
    /// <param name="folder">Where the sub-folders go.</param>
    /// <param name="options">Further words for the script.</param>
    public static IReadOnlyList<SimulatedPair> MakeMany(int firstSeed, int count, string folder, params string[] options)
    {
        PythonRunner.Run("second_generator.py", ["--seed", Text(firstSeed), "--many", Text(count), "--processes", "2", "--out", folder, .. options]);
        return [.. Enumerable.Range(firstSeed, count).Select(seed => Read(Path.Combine(folder, seed.ToString("0000", CultureInfo.InvariantCulture))))];
    }

    /// <summary>Reads a pair that was made before.</summary>
    public static SimulatedPair Read(string folder)
    {
        var truth = Parse<PairTruth>(folder, "truth.json");
        return new SimulatedPair(
            folder,
            Path.Combine(folder, truth.Before),
            Path.Combine(folder, truth.After),
            Parse<CaseDocument>(folder, "case.json"),
            truth);
    }

    private static T Parse<T>(string folder, string file) =>
        JsonSerializer.Deserialize<T>(File.ReadAllText(Path.Combine(folder, file)), Json)
        ?? throw new InvalidOperationException($"{file} in {folder} is empty.");

    private static string Text(int number) => number.ToString(CultureInfo.InvariantCulture);
}

/// <summary>A pair of simulated films on disk.</summary>
internal sealed record SimulatedPair(string Folder, string BeforeFile, string AfterFile, CaseDocument Case, PairTruth Truth);

/// <summary>What is true of a pair. Matrix: nine numbers row by row, the best affine from the film after to the film before over all canals, and what it leaves.</summary>
internal sealed record PairTruth(
    int Schema,
    int Seed,
    string Tooth,
    string Before,
    string After,
    bool Comparable,
    string? BadPair,
    double PixelSpacingMm,
    IReadOnlyList<double> AfterToBefore,
    double AfterToBeforeRmsPx,
    PairChanges Changes,
    IReadOnlyList<BranchTruth> Canals);

/// <summary>What differs between the two films.</summary>
internal sealed record PairChanges(double AngulationDeg, double RotationDeg, double Scale, double Crop, double Gamma, double Exposure, double Noise, bool Clamp);

/// <summary>What is true of one branch. Rows of displacement: mm from the canal's end, then place after minus place before in pixels.</summary>
internal sealed record BranchTruth(
    string Name,
    string? Parent,
    double OwnFromPx,
    double LengthPx,
    double LengthMm,
    double? FilledToPx,
    double? FillEndMm,
    PartTruth? Residual,
    ThirdsTruth Thirds,
    IReadOnlyList<double[]> CentreLinePx,
    IReadOnlyList<double[]> DisplacementPx,
    IReadOnlyList<double[]> FillingWidth,
    double OverlapShare);

/// <summary>The three thirds; null where there was no filling before.</summary>
internal sealed record ThirdsTruth(PartTruth? Coronal, PartTruth? Middle, PartTruth? Apical)
{
    /// <summary>Those that held filling.</summary>
    public IEnumerable<PartTruth> Filled => new[] { Coronal, Middle, Apical }.OfType<PartTruth>();
}

/// <summary>Volume and projected area of old filling over some length of canal, and what is left of them. Definitions stand in truth.json.</summary>
internal sealed record PartTruth(
    [property: System.Text.Json.Serialization.JsonPropertyName("mass_before_mm3")] double MassBeforeMm3,
    [property: System.Text.Json.Serialization.JsonPropertyName("mass_after_mm3")] double MassAfterMm3,
    double MassPercent,
    double AttenuationPercent,
    [property: System.Text.Json.Serialization.JsonPropertyName("area_before_mm2")] double AreaBeforeMm2,
    [property: System.Text.Json.Serialization.JsonPropertyName("area_after_mm2")] double AreaAfterMm2,
    double AreaPercent,
    double? AreaPercentOfThick,
    double AreaPercentAfterView);
