using Secondpass.Domain.Films;
using Secondpass.Phantoms.Anatomy;
using Secondpass.Phantoms.Contents;
using Secondpass.Phantoms.Imaging;
using Secondpass.Phantoms.Matter;
using Secondpass.Phantoms.Truth;

namespace Secondpass.Accuracy;

/// <summary>Pairs of the library of phantoms.</summary>
internal static class OwnPairs
{
    /// <summary>A row of its own, so that pairs differ from those without it in their grey scale alone.</summary>
    private const int ScaleSeed = 777;

    /// <summary>A pair of which both films are bent by a gamma of their own, as sensors' programs do; a third have 8 bits.</summary>
    /// <param name="seed">Everything follows from it.</param>
    /// <param name="size">1 for films taken with care (angles to about 3°), 2 for careless ones (to about 6°).</param>
    public static KnownPair Make(int seed, double size)
    {
        var change = PairChange.Drawn(seed, size);
        return Known(Pair(seed, change), change, seed);
    }

    /// <summary>One tooth twice: a pair as <see cref="Make"/> gives it with care, and another with the tube turned for both of its films.</summary>
    /// <param name="seed">Everything else follows from it.</param>
    /// <param name="turnDegrees">How far the tube is turned about the tooth's long axis.</param>
    public static (KnownPair Straight, KnownPair Turned) Twice(int seed, double turnDegrees)
    {
        var (first, second) = (PairChange.Drawn(seed), PairChange.Drawn(seed + 500_000));
        return (
            Known(Pair(seed, first), first, seed),
            Known(Pair(seed, second, geometry: film => film with { HorizontalDegrees = turnDegrees }), second, seed));
    }

    private static KnownPair Known(PhantomPair pair, PairChange change, int seed)
    {
        return new KnownPair(
            string.Create(CultureInfo.InvariantCulture, $"first generator {seed}"),
            double.Hypot(change.HorizontalDegrees, change.VerticalDegrees),
            Request(pair, seed),
            [.. pair.Truth.Branches.Where(branch => branch.Whole is not null).Select(Known)]);
    }

    /// <summary>Marks and films of a pair as they are given to a comparison.</summary>
    public static ComparisonRequest Request(PhantomPair pair, int seed) => new(
        pair.Before.Radiograph,
        pair.After.Radiograph,
        Calibration.From(pair.Before.Geometry.PixelSizeAtTooth, CalibrationSource.Entered).Value,
        null,
        pair.Clicks(1, 1.5, seed),
        AfterState.Removed,
        new Dictionary<string, AfterState>(),
        []);

    /// <summary>A pair as <see cref="Make"/> gives it, with pieces of filling moved.</summary>
    /// <param name="seed">Everything else follows from it.</param>
    /// <param name="size">As there.</param>
    /// <param name="moved">The pieces, given the tooth; null for none.</param>
    /// <param name="tooth">What of the tooth is chosen; null for nothing.</param>
    public static PhantomPair WithMoved(int seed, double size, Func<PhantomTooth, IReadOnlyList<MovedPlug>>? moved, ToothOptions? tooth = null) =>
        Pair(seed, PairChange.Drawn(seed, size), moved, tooth);

    private static PhantomPair Pair(int seed, PairChange change, Func<PhantomTooth, IReadOnlyList<MovedPlug>>? moved = null, ToothOptions? tooth = null, Func<FilmGeometry, FilmGeometry>? geometry = null)
    {
        var random = new Random(seed);
        return PhantomPair.Make(seed, new PairOptions
        {
            Change = change,
            Moved = moved,
            Geometry = geometry ?? (film => film),
            Exposure = Shown(Sensor(random), new Random(seed + ScaleSeed)),
            Tooth = (tooth ?? new ToothOptions()) with { Filling = Filling(random) },
        });
    }

    /// <summary>A set, a beam and a sensor such as clinics have them: every figure drawn evenly over its range, by common practice, no source.</summary>
    private static Exposure Sensor(Random random) => new()
    {
        Gamma = Math.Pow(2, Between(random, -0.6, 0.6)),
        Bits = random.Next(3) == 0 ? 8 : 12,
        Beam = Spectrum.Filtered(Between(random, 60, 69), Between(random, 1.5, 2.5), 6),
        PhotonsPerPixel = 4000 * Math.Pow(2, Between(random, -1.3, 1)),
        BlurMillimetres = Between(random, 0.035, 0.075),
        ScatterShare = Between(random, 0.03, 0.25),
    };

    /// <summary>What sensors' programs and film make of a signal, a third each: common practice, no source.</summary>
    private static Exposure Shown(Exposure exposure, Random random) =>
        exposure with { Scale = (GreyScale)random.Next(3), FilmExposure = Between(random, 1, 4) };

    /// <summary>An old filling of any make, over the ranges that are published, with up to a twentieth of pores.</summary>
    private static Material Filling(Random random) => Materials.FillingOf(Between(random, 0.18, 0.24), Between(random, 0, 0.11), Between(random, 0.95, 1));

    private static double Between(Random random, double low, double high) => low + ((high - low) * random.NextDouble());

    private static KnownBranch Known(BranchTruth branch)
    {
        var whole = branch.Whole!;
        return new KnownBranch(
            branch.Name,
            branch.OverlapShare,
            Share(whole),
            branch.Thirds.ToDictionary(third => third.Key, third => Share(third.Value)),
            branch.OnBefore.Path,
            level =>
            {
                var moved = branch.DisplacementAt(level);
                return new PixelPoint(moved.Dx, moved.Dy);
            });

        KnownShare Share(ResidueTruth truth) => new(truth.MassPercent, truth.AreaPercent, truth.FillingAreaPixels < 0.05 * whole.FillingAreaPixels);
    }
}
