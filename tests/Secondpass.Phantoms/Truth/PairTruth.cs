using Secondpass.Domain.Films;
using Secondpass.Phantoms.Anatomy;
using Secondpass.Phantoms.Contents;
using Secondpass.Phantoms.Imaging;

namespace Secondpass.Phantoms.Truth;

/// <summary>What is truly left over one length of canal.</summary>
/// <param name="MassPercent">Volume of residue in % of the filling's volume before, as both fall on the film before.</param>
/// <param name="AreaPercent">Projected area of residue at least 0.10 mm thick in % of the filling's projected area before by the same thickness, both along the rays of the film before.</param>
/// <param name="FillingMassPixels">The filling before: thickness summed over pixels, in mm·pixels.</param>
/// <param name="FillingAreaPixels">The filling's projected area before, in pixels.</param>
public sealed record ResidueTruth(double MassPercent, double AreaPercent, double FillingMassPixels, double FillingAreaPixels);

/// <summary>What is true of one branch of a pair.</summary>
/// <param name="OnBefore">The branch on the film before.</param>
/// <param name="OnAfter">The branch on the film after.</param>
/// <param name="Whole">The branch's own part, whole; null when it held no filling.</param>
/// <param name="Thirds">By third of the projected path before; a third without filling before is missing.</param>
/// <param name="AreaPercentAlongAfterRays">As the area of <paramref name="Whole"/>, but the residue along the rays of the film after, at equal scale; null as there.</param>
/// <param name="OverlapShare">Share of the filling's projected area before that lies over another branch's filling.</param>
public sealed record BranchTruth(
    BranchOnFilm OnBefore,
    BranchOnFilm OnAfter,
    ResidueTruth? Whole,
    IReadOnlyDictionary<CanalThird, ResidueTruth> Thirds,
    double? AreaPercentAlongAfterRays,
    double OverlapShare)
{
    /// <summary>The branch's name.</summary>
    public string Name => OnBefore.Canal.Name;

    /// <summary>Where the centre line's point at a level of the film before lies on the film after.</summary>
    /// <param name="levelPixels">Level on the film before, in pixels from the orifice.</param>
    public Displacement DisplacementAt(double levelPixels)
    {
        var (_, y, _) = OnBefore.InSpace(levelPixels);
        var before = OnBefore.Path.At(levelPixels);
        var after = OnAfter.Path.At(OnAfter.LevelOfY(y));
        return new Displacement(levelPixels, after.X - before.X, after.Y - before.Y);
    }
}

/// <summary>What is true of a pair of films of one tooth.</summary>
/// <param name="Branches">Branches, filled or not, parents before children.</param>
public sealed record PairTruth(IReadOnlyList<BranchTruth> Branches)
{
    /// <summary>Filling thinner than this along the ray does not count to its area before, in mm.</summary>
    public const double FillingEdgeMillimetres = 0.10;

    /// <summary>Residue thinner than this along the ray does not count to its area, in mm.</summary>
    public const double ResidueEdgeMillimetres = 0.10;

    /// <summary>A branch by its name.</summary>
    public BranchTruth Branch(string name) => Branches.First(branch => branch.Name == name);

    /// <summary>Works out the truth of a pair.</summary>
    /// <param name="tooth">The tooth.</param>
    /// <param name="before">Geometry of the film before.</param>
    /// <param name="after">Geometry of the film after.</param>
    /// <param name="residue">What was left on the film after.</param>
    public static PairTruth Of(PhantomTooth tooth, FilmGeometry before, FilmGeometry after, Residue residue)
    {
        ArgumentNullException.ThrowIfNull(tooth);
        var filling = FilmSimulator.FillingThickness(tooth, before, Residue.Everything(tooth));
        var left = FilmSimulator.FillingThickness(tooth, before, residue);
        var leftAfter = FilmSimulator.FillingThickness(tooth, after, residue);
        var scale = Math.Pow(after.PixelSizeAtTooth / before.PixelSizeAtTooth, 2);
        var branches = new List<BranchTruth>();
        foreach (var canal in tooth.Canals)
        {
            var onBefore = new BranchOnFilm(tooth, before, canal.Name);
            var onAfter = new BranchOnFilm(tooth, after, canal.Name);
            if (!filling.TryGetValue(canal.Name, out var own))
            {
                branches.Add(new BranchTruth(onBefore, onAfter, null, new Dictionary<CanalThird, ResidueTruth>(), null, 0));
                continue;
            }

            var sums = new Dictionary<CanalThird, Sums>();
            var whole = new Sums();
            var overlapping = 0;
            own.ForEach((place, thickness) =>
            {
                var third = onBefore.ThirdOf(onBefore.NearestLevel(place));
                var sum = sums.TryGetValue(third, out var found) ? found : sums[third] = new Sums();
                var rest = left[canal.Name][(int)place.X, (int)place.Y];
                sum.Add(thickness, rest);
                whole.Add(thickness, rest);
                if (thickness >= FillingEdgeMillimetres
                    && filling.Any(other => other.Key != canal.Name && other.Value[(int)place.X, (int)place.Y] >= FillingEdgeMillimetres))
                {
                    overlapping++;
                }
            });
            var thirds = sums.Where(pair => pair.Value.FillingArea > 0).ToDictionary(pair => pair.Key, pair => pair.Value.Truth());
            branches.Add(whole.FillingArea == 0
                ? new BranchTruth(onBefore, onAfter, null, thirds, null, 0)
                : new BranchTruth(
                    onBefore,
                    onAfter,
                    whole.Truth(),
                    thirds,
                    100.0 * leftAfter[canal.Name].CountFrom(ResidueEdgeMillimetres) * scale / whole.FillingArea,
                    (double)overlapping / whole.FillingArea));
        }

        return new PairTruth(branches);
    }

    private sealed class Sums
    {
        private double fillingMass;
        private double residueMass;
        private int residueArea;

        public int FillingArea { get; private set; }

        public void Add(double thickness, double rest)
        {
            fillingMass += thickness;
            residueMass += rest;
            FillingArea += thickness >= FillingEdgeMillimetres ? 1 : 0;
            residueArea += rest >= ResidueEdgeMillimetres ? 1 : 0;
        }

        public ResidueTruth Truth() =>
            new(100 * residueMass / fillingMass, 100.0 * residueArea / FillingArea, fillingMass, FillingArea);
    }
}
