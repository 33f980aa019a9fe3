using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;

namespace Secondpass.Tests.Exchange;

/// <summary>A length of canal, as shares of the way from orifice to end.</summary>
internal readonly record struct Stretch(double From, double To);

/// <summary>One canal to invent.</summary>
internal sealed record InventedCanal(string Name)
{
    public Stretch Filled { get; init; } = new(0.05, 0.9);

    public IReadOnlyList<Stretch> Left { get; init; } = [];

    public IReadOnlyList<Stretch> Untold { get; init; } = [];

    public ResidueShare? Whole { get; init; } = Share(12, 8, 17);

    public IReadOnlyDictionary<CanalThird, ResidueShare>? Thirds { get; init; }

    public Refusal? Refused { get; init; }

    public string? BranchName { get; init; }

    public static ResidueShare Share(double mass, double low, double high) =>
        new(new Estimate(mass, new Interval(low, high)), new Estimate(mass, new Interval(low, high)));
}

/// <summary>
/// Results with known content, made without any reading of films, and drawn films to go with them: for tests of pictures,
/// sheets and words, which must not depend on how well films are read.
/// </summary>
internal static class InventedComparison
{
    public const double MillimetresPerPixel = 0.03;

    private const int Width = 760;
    private const int Height = 1000;
    private const double OrificeRow = 330;

    public static Calibration Scale { get; } = Calibration.From(MillimetresPerPixel, CalibrationSource.File).Value;

    /// <summary>What most tests need: one canal with residue at its apical third.</summary>
    public static InventedCanal Plain { get; } = new("MB1")
    {
        Left = [new(0.72, 0.86)],
        Thirds = new Dictionary<CanalThird, ResidueShare>
        {
            [CanalThird.Coronal] = InventedCanal.Share(0.4, -2, 3),
            [CanalThird.Middle] = InventedCanal.Share(5, 2, 9),
            [CanalThird.Apical] = InventedCanal.Share(31, 20, 44),
        },
    };

    /// <summary>A molar's canals, one of each case: residue, none visible, can't tell, refused, a branch, a short old filling.</summary>
    public static IReadOnlyList<InventedCanal> Molar { get; } =
    [
        Plain with { BranchName = "MB2" },
        new("DB")
        {
            Whole = InventedCanal.Share(1, -4, 6),
            Untold = [new(0.45, 0.6)],
            Thirds = Thirds((1, -4, 6), (2, -7, 11), (0, -3, 4)),
        },
        new("P")
        {
            Filled = new(0.02, 0.55),
            Left = [new(0.3, 0.5), new(0.1, 0.14)],
            Whole = InventedCanal.Share(48, 40, 57),
            Thirds = new Dictionary<CanalThird, ResidueShare>
            {
                [CanalThird.Coronal] = InventedCanal.Share(30, 22, 38),
                [CanalThird.Middle] = InventedCanal.Share(70, 60, 80),
            },
        },
        new("DL")
        {
            Whole = null,
            Refused = new Refusal("instrument_in", "An instrument stands in this canal on the film after, so what is left of the filling can't be told from it.", "Take a film without the instrument if one is needed anyway."),
        },
    ];

    public static Dictionary<CanalThird, ResidueShare> Thirds(
        (double Value, double Low, double High) coronal,
        (double Value, double Low, double High) middle,
        (double Value, double Low, double High) apical) => new()
        {
            [CanalThird.Coronal] = InventedCanal.Share(coronal.Value, coronal.Low, coronal.High),
            [CanalThird.Middle] = InventedCanal.Share(middle.Value, middle.Low, middle.High),
            [CanalThird.Apical] = InventedCanal.Share(apical.Value, apical.Low, apical.High),
        };

    public static BranchResidue Residue(InventedCanal canal, int index = 0, int count = 1) =>
        Residues(canal, index, count)[0];

    /// <summary>The canal's residue, then its branch's where it has one.</summary>
    public static IReadOnlyList<BranchResidue> Residues(InventedCanal canal, int index, int count)
    {
        var trunk = Branch(canal, index, count);
        var residue = Residue(canal, trunk);
        return trunk.Branches.Count == 0
            ? [residue]
            : [residue, Residue(canal with { Left = [new(0.8, 0.84)], Untold = [], Thirds = new Dictionary<CanalThird, ResidueShare> { [CanalThird.Middle] = InventedCanal.Share(1, -3, 5), [CanalThird.Apical] = InventedCanal.Share(12, 5, 19) } }, trunk.Branches[0])];
    }

    public static (ComparisonRequest Request, Comparison Comparison) Films(
        IReadOnlyList<InventedCanal> canals, Calibration? scale, IReadOnlyList<string>? notices = null, int width = Width, int height = Height)
    {
        var residues = canals.SelectMany((canal, index) => Residues(canal, index, canals.Count)).ToList();
        var classes = new byte[width * height];
        foreach (var residue in residues)
        {
            Mark(classes, residue, width, height);
        }

        var before = Film(width, height, place => classes[place] != (byte)ResidueClass.Outside, seed: 1);
        var after = Film(width, height, place => classes[place] == (byte)ResidueClass.Left, seed: 2);
        var request = new ComparisonRequest(
            Radiograph(width, height, before, "5b1c6e0f9a"),
            Radiograph(width, height, after, "e47d2210c3"),
            scale,
            null,
            [.. canals.Select(canal => new CanalClicks(canal.Name, [], []))],
            AfterState.Removed,
            new Dictionary<string, AfterState>(),
            []);
        var comparison = new Comparison(
            new FilmRegistration([1, 0, 3, 0, 1, -2, 0, 0, 1], 0.4, false, 97),
            residues,
            new Lazy<ComparisonPicture>(new ComparisonPicture(width, height, after, classes)),
            notices ?? []);
        return (request, comparison);
    }

    public static TracedBranch Branch(InventedCanal canal, int index = 0, int count = 1)
    {
        var x = Width * (index + 1.0) / (count + 1);
        var lean = (index - ((count - 1) / 2.0)) * 46;
        var path = Path(x, lean, 500, 70);
        var branches = new List<TracedBranch>();
        if (canal.BranchName is { } name)
        {
            branches.Add(Branch(canal with { Name = name }, Path(x, lean, 470, -10), 290, []));
        }

        return Branch(canal, path, 0, branches);
    }

    private static CanalPath Path(double x, double lean, double lengthRows, double curve) => new(
        [.. Enumerable.Range(0, 61).Select(step => step / 60.0).Select(share =>
            new PixelPoint(x + (lean * share) + (curve * Math.Pow(share, 3)), OrificeRow + (lengthRows * share)))]);

    private static TracedBranch Branch(InventedCanal canal, CanalPath path, double ownFrom, IReadOnlyList<TracedBranch> branches)
    {
        var length = path.LengthPixels;
        var samples = Levels(0, length)
            .Select(level => new FillingSample(
                level,
                level >= canal.Filled.From * length && level <= canal.Filled.To * length ? Estimate.Within(FillingWidth(level / length), 2) : null,
                2 * Math.Sin(level / 40),
                12000))
            .ToList();
        var filledTo = Estimate.Within(canal.Filled.To * length, 7);
        var millimetres = length * MillimetresPerPixel;
        return new TracedBranch(
            canal.Name,
            path,
            ownFrom,
            new FillingProfile(samples, canal.Filled.From * length, filledTo),
            new BranchMeasures(
                length,
                Estimate.Within(millimetres, 0.2),
                Estimate.Within((canal.Filled.To - canal.Filled.From) * millimetres, 0.2),
                100 * (canal.Filled.To - canal.Filled.From),
                Estimate.Within((1 - canal.Filled.To) * millimetres, 0.2),
                Estimate.Within(14, 3),
                new PruettCurve(null, null, "The canal is straighter than the method can tell."),
                null,
                [new FillingVoid(0.2 * length, 0.25 * length, 9, Estimate.Within(50, 14))]),
            branches);
    }

    private static BranchResidue Residue(InventedCanal canal, TracedBranch branch)
    {
        var strip = canal.Refused is null
            ? Levels(branch.OwnFromPixels, branch.Path.LengthPixels).Select(level => Sample(canal, branch, level)).ToList()
            : [];
        return new BranchResidue(
            branch,
            canal.Refused,
            canal.Refused is null ? canal.Whole : null,
            canal.Refused is null ? canal.Thirds ?? Thirds((12, 8, 17), (12, 8, 17), (12, 8, 17)) : new Dictionary<CanalThird, ResidueShare>(),
            [],
            133,
            0,
            strip);
    }

    private static StripSample Sample(InventedCanal canal, TracedBranch branch, double level)
    {
        var share = level / branch.Path.LengthPixels;
        var filled = Within(canal.Filled, share);
        var width = filled ? FillingWidth(share) : 0;
        var offset = 2 * Math.Sin(level / 40);
        if (!filled || !canal.Left.Any(stretch => Within(stretch, share)))
        {
            return new StripSample(level, width, 0, 0, 0, filled && canal.Untold.Any(stretch => Within(stretch, share)));
        }

        var stretch = canal.Left.First(stretch => Within(stretch, share));
        var thickness = 0.55 * width * Math.Sqrt(Math.Max(0.02, Math.Sin(Math.PI * (share - stretch.From) / (stretch.To - stretch.From))));
        return new StripSample(level, width, offset + (width / 2), offset + (width / 2) - thickness, 0.5, false);
    }

    private static bool Within(Stretch stretch, double share) => share >= stretch.From && share <= stretch.To;

    private static double FillingWidth(double share) => 34 - (20 * share);

    private static IEnumerable<double> Levels(double from, double to)
    {
        const double step = 0.1 / MillimetresPerPixel;
        for (var level = from; level <= to; level += step)
        {
            yield return level;
        }
    }

    private static void Mark(byte[] classes, BranchResidue residue, int width, int height)
    {
        foreach (var sample in residue.Strip)
        {
            for (var along = 0.0; along < 3.4; along += 0.5)
            {
                var level = sample.LevelPixels + along;
                var at = residue.Branch.Path.At(level);
                var direction = residue.Branch.Path.DirectionAt(level);
                var offset = 2 * Math.Sin(level / 40);
                for (var across = offset - (sample.FillingWidthPixels / 2); across < offset + (sample.FillingWidthPixels / 2); across += 0.4)
                {
                    var column = (int)Math.Round(at.X + (direction.Y * across), MidpointRounding.AwayFromZero);
                    var row = (int)Math.Round(at.Y - (direction.X * across), MidpointRounding.AwayFromZero);
                    if (column < 0 || row < 0 || column >= width || row >= height)
                    {
                        continue;
                    }

                    var left = across <= sample.ResidueFromPixels && across > sample.ResidueToPixels;
                    var found = left ? ResidueClass.Left : sample.CannotTell ? ResidueClass.Unclear : ResidueClass.Cleared;
                    classes[(row * width) + column] = (byte)found;
                }
            }
        }
    }

    private static Radiograph Radiograph(int width, int height, ushort[] pixels, string hash) =>
        new(width, height, pixels, 65535, FilmFormat.Simulated, hash.PadRight(64, '0'));

    private static ushort[] Film(int width, int height, Func<int, bool> isFilled, int seed)
    {
        var noise = new Random(seed);
        var sharp = new double[width * height];
        for (var row = 0; row < height; row++)
        {
            for (var column = 0; column < width; column++)
            {
                var grey = 15000 + (2500 * Math.Sin(column / 17.0) * Math.Sin(row / 23.0)) + (row > 420 ? 6000 : 0);
                var acrossTooth = Math.Abs(column - (width / 2.0)) / (width * (row < 300 ? 0.40 : 0.43 - (0.00025 * (row - 300))));
                grey += acrossTooth < 1 && row is > 90 and < 880 ? 13000 * Math.Sqrt(1 - acrossTooth) : 0;
                grey += isFilled((row * width) + column) ? 19000 : 0;
                sharp[(row * width) + column] = grey;
            }
        }

        var film = new ushort[width * height];
        for (var place = 0; place < film.Length; place++)
        {
            var beside = sharp[place] + sharp[Math.Max(0, place - 1)] + sharp[Math.Min(film.Length - 1, place + 1)] + sharp[Math.Max(0, place - width)] + sharp[Math.Min(film.Length - 1, place + width)];
            film[place] = (ushort)Math.Clamp((beside / 5) + (1200 * (noise.NextDouble() - 0.5)), 1, 65535);
        }

        return film;
    }
}
