using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Pixels;

namespace Secondpass.Radiographs.Trace;

/// <summary>The rod fitted across a path at equally spaced levels, and where it counts as filling.</summary>
/// <param name="LevelsPixels">Levels from the orifice, equally spaced.</param>
/// <param name="Rods">The fit at each level.</param>
/// <param name="Filled">Whether filling is seen at each level.</param>
/// <param name="BlurPixels">Blur of the film that the fits used.</param>
internal sealed record RodProfile(double[] LevelsPixels, RodFit[] Rods, bool[] Filled, double BlurPixels)
{
    /// <summary>Side of the filling at which the background is looked at, in pixels; near, because other roots and the ligament are not far.</summary>
    private const double SideReachPixels = 12;

    private const int ProfileReachPixels = 46;

    /// <summary>A piece of filling after a gap is known by its density from this length on: a millimetre and more.</summary>
    private const double LongPiecePixels = 40;

    /// <summary>What a level with filling must stand out by, as a share of the filling near it.</summary>
    private const double LeastStrengthShare = 0.35;

    /// <summary>What the filling near a level is taken to stand out by at least, as a share of the whole canal's.</summary>
    private const double LeastReferenceShare = 0.35;

    /// <summary>Times the canal's density from which a rod is no filling of it.</summary>
    private const double MostDensity = 5;

    /// <summary>So many levels of too dense a rod are no accident: a millimetre.</summary>
    private const int LeastTooDense = 10;

    /// <summary>Levels at which a piece of filling after a gap is asked whether it runs along the canal.</summary>
    private const int LevelsOfPiece = 5;

    /// <summary>So near to its path a filling is the canal's own, in pixels.</summary>
    private const double MiddlePixels = 4;

    /// <summary>How far from the path a rod and the ground beside it reach, in pixels.</summary>
    private const double NearPixels = 24;

    /// <summary>Pixels within that reach that may be another filling's: with fewer left a rod can't be told from its ground.</summary>
    private const int MostLeftOut = 19;

    private static readonly double[] StartRadiiPixels = [3, 5, 8, 12, 17];

    private static readonly double[] BlurChoicesPixels = [0.7, 1.0, 1.4, 1.9, 2.5, 3.2, 4.0];

    /// <summary>Distance between levels.</summary>
    public double SpacingPixels => LevelsPixels[1] - LevelsPixels[0];

    /// <summary>What the filling stands out by in the middle of its levels, in grey levels; there must be some.</summary>
    public double UsualContrast => Ranks.Median([.. Rods.Zip(Filled).Where(rod => rod.Second).Select(rod => rod.First.Contrast(BlurPixels))]);

    /// <summary>Reads rods along a path.</summary>
    /// <param name="image">Grey values; filling is brighter than dentine.</param>
    /// <param name="path">The path.</param>
    /// <param name="spacingPixels">Distance between levels.</param>
    /// <param name="blurPixels">Blur of the film; null estimates it.</param>
    /// <param name="greatestRadiusPixels">Radius that no filling exceeds.</param>
    /// <param name="guess">Rods along nearly the same path: their radii are where the search starts; null starts from all sizes.</param>
    /// <param name="isOthers">Whether another canal's filling covers a place: rods are fitted to the rest; null where none is known.</param>
    public static RodProfile Along(
        GreyImage image,
        CanalPath path,
        double spacingPixels,
        double? blurPixels,
        double greatestRadiusPixels = 24,
        RodProfile? guess = null,
        Func<PixelPoint, bool>? isOthers = null)
    {
        var count = Math.Max(3, (int)Math.Floor(path.LengthPixels / spacingPixels) + 1);
        var levels = new double[count];
        var profiles = new double[count][];
        var firstBlur = blurPixels ?? 1.4;
        var rods = new RodFit[count];
        Parallel.For(0, count, i =>
        {
            levels[i] = path.LengthPixels * i / (count - 1);
            profiles[i] = new double[(2 * ProfileReachPixels) + 1];
            var (at, along) = (path.At(levels[i]), path.DirectionAt(levels[i], 6));
            CrossProfile.Sample(image, at, along, 2, profiles[i]);
            LeaveOutWhite(profiles[i], image.WhiteFrom);
            if (isOthers is not null)
            {
                LeaveOutOthers(profiles[i], at, along, isOthers);
            }

            rods[i] = guess is null
                ? FromScratch(profiles[i], firstBlur, greatestRadiusPixels)
                : RodFit.Find(profiles[i], firstBlur, 0, guess.Nearest(levels[i]).RadiusPixels, SideReachPixels, greatestRadiusPixels);
        });

        var blur = blurPixels ?? EstimateBlur(profiles, rods, Enumerable.Range(0, count), greatestRadiusPixels);
        var fitted = WithBlur(profiles, rods, blur, greatestRadiusPixels);
        if (blurPixels is null && TooDense(fitted, blur) is { Length: >= LeastTooDense } alone)
        {
            // Where most of a filling lies under another the blur was that of two seen as one: what is alone shows the film's.
            var ofAlone = EstimateBlur(profiles, rods, alone, greatestRadiusPixels);
            if (ofAlone < blur)
            {
                blur = ofAlone;
                fitted = WithBlur(profiles, rods, blur, greatestRadiusPixels);
            }
        }

        var profile = new RodProfile(levels, fitted, [], blur);
        return profile with { Filled = FindFilled(fitted, levels, blur, i => CrossingLine.Passes(image, path, profile.MiddleOn(path, i), fitted[i].RadiusPixels)) };
    }

    private static RodFit[] WithBlur(double[][] profiles, RodFit[] first, double blur, double greatestRadius)
    {
        var own = new RodFit[first.Length];
        Parallel.For(0, own.Length, i => own[i] = RodFit.Find(profiles[i], blur, 0, first[i].RadiusPixels, SideReachPixels, greatestRadius));
        RodFit[] rods = [.. first];
        for (var i = 0; i < rods.Length; i++)
        {
            rods[i] = WithNeighbours(profiles, rods, own[i], i, blur, greatestRadius);
        }

        return rods;
    }

    /// <summary>Levels that stand out as a filling does with a rod far too dense and thin for it: so a filling looks that is sharper than the blur taken.</summary>
    private static int[] TooDense(RodFit[] rods, double blur)
    {
        var (contrasts, overall, density) = StandOut(rods, blur);
        return
        [
            .. Enumerable.Range(0, rods.Length).Where(i => contrasts[i] > LeastStrengthShare * LeastReferenceShare * overall
                && contrasts[i] > 3 * rods[i].ResidualDeviation
                && rods[i].GreyPerPixel >= MostDensity * density),
        ];
    }

    /// <summary>How much each rod near the path stands out, how much the canal's filling does on the whole, and its density there.</summary>
    private static (double[] Contrasts, double Overall, double Density) StandOut(RodFit[] rods, double blur)
    {
        var contrasts = rods.Select(rod => Math.Abs(rod.CentrePixels) < 8 + rod.RadiusPixels ? Math.Max(0, rod.Contrast(blur)) : 0).ToArray();
        var overall = Ranks.Quantile([.. contrasts], 0.75);
        return (contrasts, overall, Ranks.Median([.. Enumerable.Range(0, rods.Length).Where(i => contrasts[i] >= overall).Select(i => rods[i].GreyPerPixel)]));
    }

    /// <summary>Where a film is as white as it can be, it only says that there is at least so much: rods are fitted to the rest.</summary>
    private static void LeaveOutWhite(double[] profile, float whiteFrom)
    {
        for (var i = 0; i < profile.Length; i++)
        {
            profile[i] = profile[i] >= whiteFrom ? double.NaN : profile[i];
        }
    }

    /// <summary>Leaves out what another canal's filling covers beside this one's; where that is most of what is near, nothing is left out.</summary>
    private static void LeaveOutOthers(double[] profile, PixelPoint at, PixelPoint along, Func<PixelPoint, bool> isOthers)
    {
        var left = new PixelPoint(along.Y, -along.X);
        bool IsLeftOut(int i) => Math.Abs(CrossProfile.OffsetOf(i, profile.Length)) > MiddlePixels && isOthers(at + (left * CrossProfile.OffsetOf(i, profile.Length)));
        int[] leftOut = [.. Enumerable.Range(0, profile.Length).Where(IsLeftOut)];
        if (leftOut.Count(i => Math.Abs(CrossProfile.OffsetOf(i, profile.Length)) <= NearPixels) <= MostLeftOut)
        {
            foreach (var i in leftOut)
            {
                profile[i] = double.NaN;
            }
        }
    }

    /// <summary>The index of the level nearest to one.</summary>
    /// <param name="level">Pixels from the orifice.</param>
    public int IndexAt(double level) =>
        Math.Clamp((int)Math.Round(level / SpacingPixels, MidpointRounding.AwayFromZero), 0, Rods.Length - 1);

    /// <summary>The place of a rod's axis on the film.</summary>
    /// <param name="path">The path that the rods lie along.</param>
    /// <param name="index">The level's index.</param>
    public PixelPoint MiddleOn(CanalPath path, int index)
    {
        var along = path.DirectionAt(LevelsPixels[index], 6);
        return path.At(LevelsPixels[index]) + (new PixelPoint(along.Y, -along.X) * Rods[index].CentrePixels);
    }

    /// <summary>The same rods, some of them taken for another canal's.</summary>
    /// <param name="own">Whether the rod at a level is this canal's own.</param>
    public RodProfile Only(Func<int, bool> own) => this with { Filled = [.. Filled.Select((filled, i) => filled && own(i))] };

    /// <summary>The rod of the nearest level.</summary>
    private RodFit Nearest(double level) => Rods[IndexAt(level)];

    /// <summary>
    /// Which levels hold filling: those that stand out at least a third as much as the filling near them does, and whose
    /// rod is of the filling's own density. Dentine between two dark lines stands out too, but far too softly for its width;
    /// a speck of noise far too hard.
    /// </summary>
    private static bool[] FindFilled(RodFit[] rods, double[] levels, double blur, Func<int, bool> crosses)
    {
        var (contrasts, overall, density) = StandOut(rods, blur);
        var filled = new bool[rods.Length];
        var spacing = levels[1] - levels[0];
        var reach = Math.Max(3, (int)(70 / spacing));
        for (var i = 0; i < rods.Length; i++)
        {
            var near = contrasts[Math.Max(0, i - reach)..Math.Min(rods.Length, i + reach + 1)];
            var local = Ranks.Quantile(near, 0.8);
            var reference = Math.Max(LeastReferenceShare * overall, Math.Min(local, overall * 1.5));
            filled[i] = contrasts[i] > LeastStrengthShare * reference
                && contrasts[i] > 3 * rods[i].ResidualDeviation
                && rods[i].GreyPerPixel > 0.33 * density
                && rods[i].GreyPerPixel < MostDensity * density;
        }

        // A single level that disagrees with both neighbours is noise.
        for (var i = 1; i < filled.Length - 1; i++)
        {
            if (filled[i - 1] == filled[i + 1])
            {
                filled[i] = filled[i - 1];
            }
        }

        LeaveOutSpecks(filled, rods, contrasts, spacing, crosses);
        return filled;
    }

    /// <summary>
    /// Beyond the filling's end the root's own tip and bone can stand out a little too: what follows a gap after the longest
    /// filled part counts only where it stands out at least half as much as the filling before the gap, or is a long piece that is
    /// as dense for its width: a branch's filling is thinner than its trunk's. A line of bone that crosses the canal never does.
    /// </summary>
    private static void LeaveOutSpecks(bool[] filled, RodFit[] rods, double[] contrasts, double spacing, Func<int, bool> crosses)
    {
        var reach = Math.Max(3, (int)(30 / spacing));
        var runs = Runs(filled);
        if (runs.Count < 2)
        {
            return;
        }

        var longest = runs.MaxBy(run => run.To - run.From);
        var before = longest;
        foreach (var run in runs.Where(run => run.From > longest.From))
        {
            if (run == longest)
            {
                continue;
            }

            var (usual, usualDensity) = Middle(Math.Max(before.From, before.To - reach), before.To);
            var (contrast, density) = Middle(run.From, run.To);
            var dense = (run.To - run.From) * spacing >= LongPiecePixels
                && contrast >= 0.25 * usual
                && density >= 0.6 * usualDensity
                && density <= 1.7 * usualDensity;
            if ((dense || contrast >= 0.5 * usual) && !IsCrossing(run))
            {
                before = run;
                continue;
            }

            Array.Fill(filled, false, run.From, run.To - run.From);
        }

        bool IsCrossing((int From, int To) run)
        {
            int[] some = [.. Enumerable.Range(0, LevelsOfPiece).Select(i => run.From + ((run.To - 1 - run.From) * i / (LevelsOfPiece - 1))).Distinct()];
            return 2 * some.Count(crosses) > some.Length;
        }

        (double Contrast, double Density) Middle(int from, int to) => (
            Ranks.Median([.. contrasts.AsSpan(from..to)]),
            Ranks.Median([.. rods[from..to].Select(rod => rod.GreyPerPixel)]));
    }

    /// <summary>Runs of filled levels: first, and one after the last.</summary>
    private static List<(int From, int To)> Runs(bool[] filled)
    {
        var runs = new List<(int From, int To)>();
        for (var i = 0; i < filled.Length; i++)
        {
            if (filled[i] && (i == 0 || !filled[i - 1]))
            {
                runs.Add((i, i + 1));
            }
            else if (filled[i])
            {
                runs[^1] = (runs[^1].From, i + 1);
            }
        }

        return runs;
    }

    private static RodFit FromScratch(double[] profile, double blur, double greatestRadius)
    {
        RodFit best = default;
        var bestScore = double.NegativeInfinity;
        foreach (var start in StartRadiiPixels)
        {
            if (start > greatestRadius)
            {
                continue;
            }

            var rod = RodFit.Find(profile, blur, 0, start, SideReachPixels, greatestRadius);
            var score = Score(rod, blur);
            if (score > bestScore)
            {
                bestScore = score;
                best = rod;
            }
        }

        return best;
    }

    private static RodFit WithNeighbours(double[][] profiles, RodFit[] rods, RodFit own, int index, double blur, double greatestRadius)
    {
        var from = Math.Max(0, index - 4);
        var to = Math.Min(rods.Length, index + 5);
        var radius = Ranks.Median([.. rods[from..to].Select(rod => rod.RadiusPixels)]);
        var centre = Ranks.Median([.. rods[from..to].Select(rod => rod.CentrePixels)]);
        var guided = RodFit.Find(profiles[index], blur, Math.Clamp(centre, -8, 8), radius, SideReachPixels, greatestRadius);

        // The neighbours' opinion wins unless the level's own fit is clearly better: radius jumps are rarer than bad fits.
        return Score(own, blur) > 1.5 * Score(guided, blur) ? own : guided;
    }

    private static double Score(RodFit rod, double blur) =>
        rod.Contrast(blur) * Math.Sqrt(rod.RadiusPixels) / (rod.ResidualDeviation + 1e-3)
        / (1 + (0.02 * rod.CentrePixels * rod.CentrePixels));

    private static double EstimateBlur(double[][] profiles, RodFit[] rods, IEnumerable<int> levels, double greatestRadius)
    {
        // Where two fillings lie over each other one rod fits badly, and best with far too much blur: those levels are left out.
        var strongest = levels.OrderByDescending(i => rods[i].Contrast(1.4)).ToArray();
        var plainest = strongest
            .Take(Math.Max(12, 2 * strongest.Length / 3))
            .OrderBy(i => rods[i].ResidualDeviation / Math.Max(1e-3, rods[i].Contrast(1.4)))
            .Take(Math.Max(6, strongest.Length / 4))
            .ToArray();
        var unexplained = SideBySide.Each(BlurChoicesPixels, blur => plainest.Sum(i => Math.Pow(
            RodFit.Find(profiles[i], blur, rods[i].CentrePixels, rods[i].RadiusPixels, SideReachPixels, greatestRadius).ResidualDeviation, 2)));
        return BlurChoicesPixels[Array.IndexOf(unexplained, unexplained.Min())];
    }
}
