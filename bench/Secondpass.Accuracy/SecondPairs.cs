using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Job.Documents;
using Secondpass.Outside;
using Secondpass.Radiographs.Read;

namespace Secondpass.Accuracy;

/// <summary>Pairs of the second generator, which shares neither code nor physics with the library of phantoms.</summary>
internal static class SecondPairs
{
    /// <summary>The truth has a row every so much of a canal.</summary>
    private const double TruthRowMillimetres = 0.5;

    /// <summary>Makes pairs, or takes those that an earlier run left in the folder.</summary>
    /// <param name="folder">Where the sub-folders go, one a seed.</param>
    /// <param name="first">First seed.</param>
    /// <param name="count">How many.</param>
    public static IEnumerable<(KnownPair Pair, string Folder)> Over(string folder, int first, int count)
    {
        var seeds = Enumerable.Range(first, count).ToArray();
        if (seeds.Any(seed => !File.Exists(Path.Combine(Of(seed), "truth.json"))))
        {
            SecondGenerator.MakeMany(first, count, folder);
        }

        return seeds.Select(seed => (Known(SecondGenerator.Read(Of(seed)), seed), Of(seed)));

        string Of(int seed) => Path.Combine(folder, seed.ToString("0000", CultureInfo.InvariantCulture));
    }

    private static KnownPair Known(SimulatedPair pair, int seed)
    {
        var marked = CaseReader.Read(File.ReadAllBytes(Path.Combine(pair.Folder, "case.json"))).Value;
        return new KnownPair(
            string.Create(CultureInfo.InvariantCulture, $"second generator {seed}"),
            pair.Truth.Changes.AngulationDeg,
            new ComparisonRequest(
                FilmReader.Read(File.ReadAllBytes(pair.BeforeFile)).Value,
                FilmReader.Read(File.ReadAllBytes(pair.AfterFile)).Value,
                marked.BeforeScale,
                null,
                marked.Canals,
                AfterState.Removed,
                new Dictionary<string, AfterState>(),
                []),
            [.. pair.Truth.Canals.Where(branch => branch.Residual is not null).Select(branch => Known(branch, pair.Truth.PixelSpacingMm))]);
    }

    private static KnownBranch Known(BranchTruth branch, double millimetresPerPixel)
    {
        var whole = branch.Residual!;
        var path = new CanalPath([.. branch.CentreLinePx.Select(point => new PixelPoint(point[0], point[1]))]);
        var rows = branch.DisplacementPx
            .Select(row => (Level: path.LengthPixels - (row[0] / millimetresPerPixel), Moved: new PixelPoint(row[1], row[2])))
            .OrderBy(row => row.Level)
            .ToArray();
        var thirds = new Dictionary<CanalThird, KnownShare>();
        Add(CanalThird.Coronal, branch.Thirds.Coronal);
        Add(CanalThird.Middle, branch.Thirds.Middle);
        Add(CanalThird.Apical, branch.Thirds.Apical);
        return new KnownBranch(branch.Name, branch.OverlapShare, Share(whole), thirds, path, MovedAt);

        void Add(CanalThird third, PartTruth? truth)
        {
            if (truth is not null)
            {
                thirds[third] = Share(truth);
            }
        }

        // Residue and filling count by one thickness, as in a comparison's result; the generator's other share has the
        // whole outline below the line, from 0.02 mm on.
        KnownShare Share(PartTruth part) => new(
            part.MassPercent,
            part.AreaPercentOfThick ?? part.AreaPercent,
            part.AreaPercentOfThick is null || part.AreaBeforeMm2 < 0.05 * whole.AreaBeforeMm2);

        // A branch's rows begin where it leaves its trunk: what lies above belongs to the trunk's.
        PixelPoint? MovedAt(double level)
        {
            if (level < rows[0].Level - (TruthRowMillimetres / millimetresPerPixel))
            {
                return null;
            }

            var above = Array.FindIndex(rows, row => row.Level >= level);
            return above switch
            {
                < 0 => rows[^1].Moved,
                0 => rows[0].Moved,
                _ => rows[above - 1].Moved.Towards(rows[above].Moved, (level - rows[above - 1].Level) / (rows[above].Level - rows[above - 1].Level)),
            };
        }
    }
}
