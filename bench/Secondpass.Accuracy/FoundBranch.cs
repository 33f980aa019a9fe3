using System.Text.Json;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;
using Secondpass.Job.Documents;
using Secondpass.Radiographs.Compare;

namespace Secondpass.Accuracy;

/// <summary>What an estimator says of one branch.</summary>
/// <param name="Name">The branch.</param>
/// <param name="Whole">Its own part.</param>
/// <param name="Thirds">By third.</param>
/// <param name="Moved">Where the branch was found on the film after, for a true centre line: errors can be taken level by level.</param>
internal sealed record FoundBranch(
    string Name,
    FoundShare Whole,
    IReadOnlyDictionary<CanalThird, FoundShare> Thirds,
    Func<KnownBranch, IEnumerable<(double TrueLevel, PixelPoint Moved)>> Moved)
{
    // The script adds its seconds to the document's members.
    private static readonly JsonSerializerOptions Lenient = new() { PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower };

    /// <summary>What <see cref="FilmComparer"/> says; nothing of a branch that it refuses.</summary>
    public static IReadOnlyList<FoundBranch> Of(Comparison comparison) =>
    [
        .. comparison.Branches.Where(branch => branch is { Refused: null, Whole: not null }).Select(branch => new FoundBranch(
            branch.Branch.Name,
            Share(branch.Whole!),
            branch.Thirds.ToDictionary(third => third.Key, third => Share(third.Value)),
            known => branch.Displacements.Select(row => (NearestLevel(known, branch.Branch.Path.At(row.LevelPixels)), new PixelPoint(row.Dx, row.Dy))))),
    ];

    /// <summary>What a document in the shape of <c>compare</c> says.</summary>
    /// <param name="file">The document.</param>
    /// <param name="millimetresPerPixel">Scale of the film before.</param>
    public static IReadOnlyList<FoundBranch> Read(string file, double millimetresPerPixel)
    {
        var document = JsonSerializer.Deserialize<CompareDocument>(File.ReadAllBytes(file), Lenient)!;
        return
        [
            .. document.Canals.Where(canal => canal.Status == "ok").Select(canal => new FoundBranch(
                canal.Name,
                new FoundShare(Estimate(canal.MassPercent, canal.MassInterval), Estimate(canal.AreaPercent, canal.AreaInterval)),
                new[] { (CanalThird.Coronal, canal.Thirds.Coronal), (CanalThird.Middle, canal.Thirds.Middle), (CanalThird.Apical, canal.Thirds.Apical) }
                    .Where(third => third.Item2 is not null)
                    .ToDictionary(third => third.Item1, third => new FoundShare(Estimate(third.Item2!.MassPercent, third.Item2.MassInterval), Estimate(third.Item2.AreaPercent, third.Item2.AreaInterval))),

                // It says only how far from the end a row lies.
                known => canal.DisplacementPx.Select(row => (known.Path.LengthPixels - (row[0] / millimetresPerPixel), new PixelPoint(row[1], row[2]))))),
        ];
    }

    private static FoundShare Share(ResidueShare share) => new(share.MassPercent, share.AreaPercent);

    private static Estimate? Estimate(double? value, double[]? ends) =>
        value is { } known && ends is not null ? new Estimate(known, new Interval(ends[0], ends[1])) : null;

    private static double NearestLevel(KnownBranch known, PixelPoint place)
    {
        var best = (Level: 0.0, Distance: double.PositiveInfinity);
        for (var level = 0.0; level <= known.Path.LengthPixels; level++)
        {
            var distance = known.Path.At(level).DistanceTo(place);
            if (distance < best.Distance)
            {
                best = (level, distance);
            }
        }

        return best.Level;
    }
}

/// <summary>Mass and area left with their intervals, in percent; null where none is given.</summary>
internal readonly record struct FoundShare(Estimate? Mass, Estimate? Area);
