using Secondpass.Domain.Films;
using Secondpass.Radiographs.Register;

namespace Secondpass.Radiographs.Compare;

/// <summary>How much of a branch's filling lies behind or before the filling of another branch, level by level.</summary>
internal sealed class CanalOverlap
{
    private const double LevelSpacingPixels = 5;
    private const double AcrossSpacingPixels = 2;

    private readonly (int Inside, int Covered)[] rows;

    private CanalOverlap((int Inside, int Covered)[] rows) => this.rows = rows;

    /// <summary>Counts for one branch.</summary>
    /// <param name="index">The branch.</param>
    /// <param name="branches">All branches of the tooth.</param>
    /// <param name="courses">The filling along each of them.</param>
    /// <param name="strip">The branch straightened.</param>
    public static CanalOverlap Of(int index, TracedBranch[] branches, RodCourse[] courses, CanalStrips strip)
    {
        var others = Enumerable.Range(0, branches.Length)
            .Where(other => other != index)
            .SelectMany(other => Discs(branches[other], courses[other]).Where(disc => !SharedTrunk(index, other, disc.Level, branches, disc.RadiusPixels)))
            .ToArray();
        var rows = new (int Inside, int Covered)[strip.Levels];
        for (var row = 0; row < rows.Length; row++)
        {
            var rod = strip.Rods.At(strip.FirstLevel + row);
            var middle = strip.PlaceOf(row, rod.CentrePixels);
            var near = others.Where(disc => disc.Middle.DistanceTo(middle) < disc.RadiusPixels + rod.RadiusPixels).ToArray();
            for (var offset = -rod.RadiusPixels; offset <= rod.RadiusPixels; offset += AcrossSpacingPixels)
            {
                var place = strip.PlaceOf(row, rod.CentrePixels + offset);
                rows[row].Inside++;
                rows[row].Covered += near.Any(disc => disc.Middle.DistanceTo(place) < disc.RadiusPixels) ? 1 : 0;
            }
        }

        return new CanalOverlap(rows);
    }

    /// <summary>Share of the filling's outline over some rows that other fillings cover, 0 to 1.</summary>
    public double Share(IEnumerable<int> over)
    {
        int inside = 0, covered = 0;
        foreach (var row in over)
        {
            inside += rows[row].Inside;
            covered += rows[row].Covered;
        }

        return inside == 0 ? 0 : covered / (double)inside;
    }

    /// <summary>The filling of a branch as a row of discs.</summary>
    /// <param name="branch">The branch.</param>
    /// <param name="course">The filling along it; none gives no disc.</param>
    public static IEnumerable<(double Level, PixelPoint Middle, double RadiusPixels)> Discs(TracedBranch branch, RodCourse course)
    {
        for (var level = branch.OwnFromPixels; course.Any && level <= course.LastLevel; level += LevelSpacingPixels)
        {
            var rod = course.At(level);
            if (rod.Filled)
            {
                yield return (level, branch.Path.At(level), rod.RadiusPixels);
            }
        }
    }

    /// <summary>A branch near its own split overlaps its trunk by nature; that isn't counted as overlap.</summary>
    private static bool SharedTrunk(int index, int other, double level, TracedBranch[] branches, double radiusPixels)
    {
        var near = 2 * Math.Max(radiusPixels, 6);
        return (branches[other].Branches.Any(below => ReferenceEquals(below, branches[index])) && Math.Abs(level - branches[index].OwnFromPixels) < near)
            || (branches[index].Branches.Any(below => ReferenceEquals(below, branches[other])) && level - branches[other].OwnFromPixels < near);
    }
}
