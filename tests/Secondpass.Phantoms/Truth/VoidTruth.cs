using Secondpass.Domain.Films;

namespace Secondpass.Phantoms.Truth;

/// <summary>A true void of a branch's filling where a film can tell it, on levels of the path as it was traced.</summary>
/// <param name="FromPixels">Where a twentieth of the section begins to be missing.</param>
/// <param name="ToPixels">Where it ends.</param>
/// <param name="GreatestShare">Greatest share of the section that is missing, 0 to 1.</param>
/// <param name="HalfDepthPixels">Length along which at least half as much is missing.</param>
public readonly record struct VoidTruth(double FromPixels, double ToPixels, double GreatestShare, double HalfDepthPixels)
{
    private const double LeastShare = 0.05;

    /// <summary>The voids of a branch, away from its ends, its branch point and other fillings.</summary>
    /// <param name="branch">The branch as it was traced.</param>
    /// <param name="truth">What is true of it.</param>
    public static IReadOnlyList<VoidTruth> Of(TracedBranch branch, BranchOnFilm truth)
    {
        ArgumentNullException.ThrowIfNull(branch);
        ArgumentNullException.ThrowIfNull(truth);
        const double AwayPixels = 15;
        var voids = new List<VoidTruth>();
        var run = new List<(double Level, double Share)>();
        var samples = branch.Filling.Samples;
        var spacing = samples[1].LevelPixels - samples[0].LevelPixels;
        var last = (branch.Filling.FilledToPixels?.Value ?? 0) - AwayPixels;
        foreach (var sample in samples)
        {
            var level = sample.LevelPixels;
            var share = level < Math.Max(AwayPixels, branch.OwnFromPixels + 20) || level > last || sample.IsOverlapped
                ? 0
                : truth.MissingShare(truth.NearestLevel(branch.Path.At(level)));
            if (share >= LeastShare)
            {
                run.Add((level, share));
                continue;
            }

            Close();
        }

        Close();
        return voids;

        void Close()
        {
            if (run.Count > 0)
            {
                var greatest = run.Max(at => at.Share);
                voids.Add(new VoidTruth(run[0].Level, run[^1].Level, greatest, run.Count(at => at.Share >= greatest / 2) * spacing));
            }

            run.Clear();
        }
    }

    /// <summary>Whether it takes a fifth of the section and is 0.4 mm long: such a one should be seen.</summary>
    public bool IsClear(double millimetresPerPixel) => GreatestShare >= 0.2 && HalfDepthPixels * millimetresPerPixel >= 0.4;

    /// <summary>Whether a void that was found lies on it.</summary>
    public bool Meets(FillingVoid found) => found.FromPixels <= ToPixels + 5 && found.ToPixels >= FromPixels - 5;
}
