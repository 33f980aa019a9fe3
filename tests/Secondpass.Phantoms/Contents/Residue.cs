using Secondpass.Phantoms.Anatomy;

namespace Secondpass.Phantoms.Contents;

/// <summary>What is left of one branch's old filling: always a subset of it.</summary>
/// <param name="Patches">Pieces in canal coordinates.</param>
/// <param name="Inverted">False: what lies in a patch is left. True: what lies in a patch is gone, the rest is left.</param>
public sealed record BranchResidueShape(IReadOnlyList<CanalPatch> Patches, bool Inverted)
{
    /// <summary>Everything is left.</summary>
    public static BranchResidueShape Everything { get; } = new([], true);

    /// <summary>Nothing is left.</summary>
    public static BranchResidueShape Nothing { get; } = new([], false);
}

/// <summary>What is left of a tooth's old filling, branch by branch.</summary>
/// <param name="Branches">Shapes by branch name; a branch without one has nothing left.</param>
public sealed record Residue(IReadOnlyDictionary<string, BranchResidueShape> Branches)
{
    /// <summary>Nothing is left anywhere.</summary>
    public static Residue Nothing { get; } = new(new Dictionary<string, BranchResidueShape>());

    /// <summary>The whole filling is still there.</summary>
    public static Residue Everything(PhantomTooth tooth) =>
        new(tooth.FilledCanals.ToDictionary(canal => canal.Name, _ => BranchResidueShape.Everything));

    /// <summary>Draws residue that fills a share of each branch's filling volume.</summary>
    /// <param name="tooth">The tooth.</param>
    /// <param name="seed">Shape and place of the patches follow from it.</param>
    /// <param name="volumeFraction">Share of the filling's volume (voids taken out) that is left, 0 to 1, in every branch.</param>
    public static Residue Drawn(PhantomTooth tooth, int seed, double volumeFraction) =>
        Drawn(tooth, seed, tooth.FilledCanals.ToDictionary(canal => canal.Name, _ => volumeFraction));

    /// <summary>Draws residue that fills a share of each branch's filling volume.</summary>
    /// <param name="tooth">The tooth.</param>
    /// <param name="seed">Shape and place of the patches follow from it.</param>
    /// <param name="volumeFractions">Share, 0 to 1, by branch name; a branch without one has nothing left.</param>
    public static Residue Drawn(PhantomTooth tooth, int seed, IReadOnlyDictionary<string, double> volumeFractions)
    {
        ArgumentNullException.ThrowIfNull(tooth);
        var shapes = new Dictionary<string, BranchResidueShape>();
        var stream = 100;
        foreach (var canal in tooth.FilledCanals)
        {
            stream++;
            if (volumeFractions.TryGetValue(canal.Name, out var fraction))
            {
                shapes[canal.Name] = DrawnIn(canal, new PhantomRandom(seed, stream), fraction);
            }
        }

        return new Residue(shapes);
    }

    /// <summary>A plug that fills the canal all round over a stretch of its level.</summary>
    /// <param name="fromY">Its coronal end as y in mm.</param>
    /// <param name="toY">Its apical end as y in mm.</param>
    public static CanalPatch Plug(double fromY, double toY) => new((fromY + toY) / 2, (toY - fromY) / 2, 0, 4, 0, 1);

    /// <summary>The shape left in a branch; nothing when none is given.</summary>
    public BranchResidueShape Of(string branch) => Branches.GetValueOrDefault(branch, BranchResidueShape.Nothing);

    private static BranchResidueShape DrawnIn(PhantomCanal canal, PhantomRandom random, double fraction)
    {
        if (fraction <= 0)
        {
            return BranchResidueShape.Nothing;
        }

        if (fraction >= 1)
        {
            return BranchResidueShape.Everything;
        }

        // Little residue clings to the walls in patches; much residue is a filling from which pieces are gone.
        var inverted = fraction > 0.55;
        var target = inverted ? 1 - fraction : fraction;
        var grid = new CanalGrid(canal);
        var patches = new List<CanalPatch>();
        var reached = 0.0;
        while (target - reached > 1e-3 && patches.Count < 100)
        {
            var next = inverted ? DrawnGap(canal, random) : DrawnPatch(canal, random);
            if (reached + grid.ShareAdded(next) > target)
            {
                // The last patch is shrunk until the share is met.
                var (low, high) = (0.0, 1.0);
                var whole = next;
                for (var turn = 0; turn < 20; turn++)
                {
                    var scale = (low + high) / 2;
                    next = whole with { HalfHeight = whole.HalfHeight * scale };
                    (low, high) = reached + grid.ShareAdded(next) > target ? (low, scale) : (scale, high);
                }
            }

            patches.Add(next);
            reached += grid.Cover(next);
        }

        return new BranchResidueShape(patches, inverted);
    }

    private static CanalPatch DrawnPatch(PhantomCanal canal, PhantomRandom random)
    {
        var filling = canal.Filling!;
        var length = filling.ToY - filling.FromY;

        // Residue is commoner towards the apex.
        var level = filling.FromY + (length * Math.Pow(random.Next(), 0.7));
        return random.Next() switch
        {
            < 0.12 => Plug(level, level + random.Between(0.4, 1.6)),
            < 0.55 => new CanalPatch(level, random.Between(0.4, 1.6), random.Between(-Math.PI, Math.PI), random.Between(0.4, 1.2), random.Between(0.3, 0.75), 1),
            < 0.85 => new CanalPatch(level, random.Between(0.8, 3.0), random.Between(-Math.PI, Math.PI), random.Between(0.25, 0.7), random.Between(0.55, 0.9), 1),
            _ => new CanalPatch(level, random.Between(0.3, 0.9), random.Between(-Math.PI, Math.PI), random.Between(0.8, 2.2), random.Between(0.0, 0.5), 1),
        };
    }

    private static CanalPatch DrawnGap(PhantomCanal canal, PhantomRandom random)
    {
        var filling = canal.Filling!;
        var length = filling.ToY - filling.FromY;

        // An instrument works from the orifice down, so gaps are commoner there.
        var level = filling.FromY + (length * Math.Pow(random.Next(), 1.6));
        return random.Next() < 0.6
            ? new CanalPatch(level, random.Between(0.8, 3.0), 0, 4, 0, random.Between(0.35, 0.9))
            : new CanalPatch(level, random.Between(0.5, 2.5), random.Between(-Math.PI, Math.PI), random.Between(0.7, 2.0), random.Between(0, 0.5), 1);
    }
}
