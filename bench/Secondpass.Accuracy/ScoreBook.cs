using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;

namespace Secondpass.Accuracy;

/// <summary>Mass or area.</summary>
internal enum Measure
{
    Mass,
    Area,
}

/// <summary>How much is truly left: next to nothing, next to everything, or what lies between.</summary>
internal enum Left
{
    Nothing,
    Some,
    Everything,
}

/// <summary>One estimate with where it comes from.</summary>
/// <param name="Branch">The branch.</param>
/// <param name="Third">The third; null for the whole branch.</param>
/// <param name="Measure">Mass or area.</param>
/// <param name="IsOverlapped">Whether a tenth or more of the branch's filling lies over another's.</param>
/// <param name="IsEightBit">Whether the film before has 8 bits.</param>
/// <param name="Scored">Estimate and truth, in percent.</param>
internal sealed record ScoredPart(string Branch, CanalThird? Third, Measure Measure, bool IsOverlapped, bool IsEightBit, Scored Scored)
{
    /// <summary>How much is truly left, told at 5 and 95 %.</summary>
    public Left Left => Scored.Truth switch { < 5 => Left.Nothing, > 95 => Left.Everything, _ => Left.Some };
}

/// <summary>How an estimator did over many pairs.</summary>
internal sealed class ScoreBook
{
    /// <summary>Share of a filling over another canal's from which a branch counts as overlapped.</summary>
    public const double Overlapped = 0.1;

    private readonly List<ScoredPart> parts = [];
    private readonly List<(string Pair, double AngleDegrees, double Pixels)> registrations = [];
    private readonly Dictionary<string, double> seconds = [];

    /// <summary>Estimates.</summary>
    public IReadOnlyList<ScoredPart> Parts => parts;

    /// <summary>Pairs seen.</summary>
    public int Pairs => seconds.Count;

    /// <summary>The names of the pairs seen.</summary>
    public IReadOnlySet<string> Seen => seconds.Keys.ToHashSet();

    /// <summary>Pairs that were refused although they can be compared.</summary>
    public List<string> Refused { get; } = [];

    /// <summary>Branches of compared pairs without a result.</summary>
    public int BranchesWithoutResult { get; private set; }

    /// <summary>Median time of a pair inside the process, in seconds.</summary>
    public double MedianSeconds => Errors.Quantile([.. seconds.Values.Order()], 0.5);

    /// <summary>Adds what was found on a pair.</summary>
    /// <param name="pair">The pair.</param>
    /// <param name="found">What was found; null when the pair was refused.</param>
    /// <param name="took">Seconds inside the process.</param>
    public void Add(KnownPair pair, IReadOnlyList<FoundBranch>? found, double took)
    {
        seconds.Add(pair.Name, took);
        if (found is null)
        {
            Refused.Add(pair.Name);
            return;
        }

        foreach (var known in pair.Branches)
        {
            if (found.FirstOrDefault(branch => branch.Name == known.Name) is { } branch)
            {
                Add(pair, known, branch);
            }
            else
            {
                BranchesWithoutResult++;
            }
        }
    }

    /// <summary>Takes over another book.</summary>
    public void Add(ScoreBook other)
    {
        parts.AddRange(other.parts);
        registrations.AddRange(other.registrations);
        foreach (var (pair, took) in other.seconds)
        {
            seconds.Add(pair, took);
        }

        Refused.AddRange(other.Refused);
        BranchesWithoutResult += other.BranchesWithoutResult;
    }

    /// <summary>What it holds of some pairs, by their names.</summary>
    public ScoreBook Only(IReadOnlySet<string> pairs)
    {
        var some = new ScoreBook();
        some.parts.AddRange(parts.Where(part => pairs.Contains(part.Scored.Pair)));
        some.registrations.AddRange(registrations.Where(one => pairs.Contains(one.Pair)));
        foreach (var (pair, took) in seconds.Where(one => pairs.Contains(one.Key)))
        {
            some.seconds.Add(pair, took);
        }

        some.Refused.AddRange(Refused.Where(pairs.Contains));
        return some;
    }

    /// <summary>Root mean square registration error of each branch in pixels of the film before, in order.</summary>
    /// <param name="toDegrees">Only pairs of which the beams lie no farther apart.</param>
    public double[] Registration(double toDegrees = double.PositiveInfinity) =>
        [.. registrations.Where(one => one.AngleDegrees <= toDegrees).Select(one => one.Pixels).Order()];

    private void Add(KnownPair pair, KnownBranch known, FoundBranch found)
    {
        var errors = found.Moved(known)
            .Select(row => known.MovedAt(row.TrueLevel) is { } truly ? row.Moved.DistanceTo(truly) : double.NaN)
            .Where(double.IsFinite)
            .ToArray();
        if (errors.Length > 0)
        {
            registrations.Add((pair.Name, pair.AngleDegrees, Math.Sqrt(errors.Average(error => error * error))));
        }

        Add(null, found.Whole, known.Whole);
        foreach (var (third, share) in known.Thirds)
        {
            if (found.Thirds.TryGetValue(third, out var foundShare) && !share.IsSlight)
            {
                Add(third, foundShare, share);
            }
        }

        void Add(CanalThird? third, FoundShare share, KnownShare truth)
        {
            Keep(Measure.Mass, share.Mass, truth.Mass);
            Keep(Measure.Area, share.Area, truth.Area);

            void Keep(Measure measure, Estimate? estimate, double there)
            {
                if (estimate is { } it)
                {
                    parts.Add(new ScoredPart(
                        known.Name,
                        third,
                        measure,
                        known.OverlapShare >= Overlapped,
                        pair.IsEightBit,
                        Scored.Of(it, there) with { Pair = pair.Name }));
                }
            }
        }
    }
}
