using System.Diagnostics;
using System.Globalization;
using System.Text;
using Secondpass.Domain.Films;
using Secondpass.Phantoms.Imaging;
using Secondpass.Phantoms.Truth;
using Secondpass.Radiographs.Compare;

namespace Secondpass.Accuracy;

/// <summary>What is left, against the truth of simulated pairs.</summary>
internal static class LeftRun
{
    /// <summary>Share of a filling under another canal's from which a branch counts as overlapped.</summary>
    private const double Overlapped = 0.1;

    /// <summary>Runs pairs and writes the tables.</summary>
    /// <param name="first">First seed.</param>
    /// <param name="count">How many pairs of each kind.</param>
    public static string Over(int first, int count)
    {
        var text = new StringBuilder();
        Good(text, "Films taken with care (angles to about 3°, rotation to 4°)", first, count, 1);
        Good(text, "Films taken carelessly (angles to about 6°, rotation to 8°)", first + 10_000, count / 2, 2);
        Bad(text, first + 20_000, count / 3);
        return text.ToString();
    }

    private static void Good(StringBuilder text, string title, int first, int count, double size)
    {
        var rows = new Dictionary<string, List<Scored>>();
        var distances = new List<double>();
        var times = new List<double>();
        var refused = 0;
        for (var seed = first; seed < first + count; seed++)
        {
            var pair = Pair(seed, size);
            var watch = Stopwatch.StartNew();
            var answer = FilmComparer.Compare(Request(pair, seed));
            times.Add(watch.Elapsed.TotalMilliseconds);
            if (!answer.TryGet(out var comparison, out _))
            {
                refused++;
                continue;
            }

            foreach (var branch in comparison.Branches.Where(branch => branch.Refused is null))
            {
                Score(rows, distances, branch, pair.Truth.Branch(branch.Branch.Name));
            }
        }

        text.AppendLine(CultureInfo.InvariantCulture, $"**{title}**: {count} pairs, seeds {first} to {first + count - 1}, {refused} refused.");
        text.AppendLine().AppendLine(Errors.Head);
        foreach (var (what, scored) in rows.OrderBy(row => row.Key, StringComparer.Ordinal))
        {
            text.AppendLine(Errors.Row(what, scored, "0.0"));
        }

        var far = distances.Order().ToArray();
        var sorted = times.Order().ToArray();
        text.AppendLine().AppendLine(
            CultureInfo.InvariantCulture,
            $"Registration along the canals: {Errors.Quantile(far, 0.5):0.0} px root mean square in the median branch, {Errors.Quantile(far, 0.95):0.0} px at the 95th percentile. A comparison took {Errors.Quantile(sorted, 0.5):0} ms (median, this machine).");
        text.AppendLine();
    }

    private static void Bad(StringBuilder text, int first, int count)
    {
        (string Name, Func<int, PhantomPair> Make)[] kinds =
        [
            ("another tooth of the same kind", seed => PhantomPair.OfTwoTeeth(seed)),
            ("mirrored", seed => PhantomPair.WithMirroredAfter(seed)),
            ("the place beside the tooth", seed => PhantomPair.WithoutOverlap(seed)),
        ];
        text.AppendLine("**Pairs that must be refused**").AppendLine().AppendLine("| kind | pairs | given a number all the same |").AppendLine("| --- | --- | --- |");
        foreach (var (name, make) in kinds)
        {
            var given = Enumerable.Range(first, count).Count(seed => FilmComparer.Compare(Request(make(seed), seed)).IsGiven);
            text.AppendLine(CultureInfo.InvariantCulture, $"| {name} | {count} | {given} |");
        }
    }

    /// <summary>A pair of which both films are bent by a gamma of their own, as sensors' programs do.</summary>
    private static PhantomPair Pair(int seed, double size)
    {
        var random = new Random(seed);
        return PhantomPair.Make(seed, new PairOptions
        {
            Change = PairChange.Drawn(seed, size),
            Exposure = new Exposure { Gamma = Math.Pow(2, (random.NextDouble() * 1.2) - 0.6), Bits = random.Next(3) == 0 ? 8 : 12 },
        });
    }

    private static ComparisonRequest Request(PhantomPair pair, int seed) => new(
        pair.Before.Radiograph,
        pair.After.Radiograph,
        Calibration.From(pair.Before.Geometry.PixelSizeAtTooth, CalibrationSource.Entered).Value,
        null,
        pair.Clicks(1, 1.5, seed),
        AfterState.Removed,
        new Dictionary<string, AfterState>(),
        []);

    private static void Score(Dictionary<string, List<Scored>> rows, List<double> distances, BranchResidue branch, BranchTruth truth)
    {
        if (truth.Whole is null || branch.Whole is null)
        {
            return;
        }

        double sum = 0;
        foreach (var moved in branch.Displacements)
        {
            var there = truth.DisplacementAt(truth.OnBefore.NearestLevel(branch.Branch.Path.At(moved.LevelPixels)));
            sum += Math.Pow(moved.Dx - there.Dx, 2) + Math.Pow(moved.Dy - there.Dy, 2);
        }

        distances.Add(Math.Sqrt(sum / branch.Displacements.Count));
        var apart = truth.OverlapShare < Overlapped;
        Add(apart ? "1 whole canal" : "2 whole canal, overlapped", branch.Whole, truth.Whole);
        foreach (var (third, share) in branch.Thirds)
        {
            if (apart && truth.Thirds.TryGetValue(third, out var thirdTruth))
            {
                Add($"{3 + (int)third} {third.ToString().ToLowerInvariant()} third", share, thirdTruth);
            }
        }

        void Add(string where, ResidueShare share, ResidueTruth there)
        {
            if (share.MassPercent is { } mass)
            {
                Row(where + ", mass").Add(new Scored(mass.Value, there.MassPercent, mass.Interval.Low, mass.Interval.High));
            }

            if (share.AreaPercent is { } area)
            {
                Row(where + ", area").Add(new Scored(area.Value, there.AreaPercent, area.Interval.Low, area.Interval.High));
            }
        }

        List<Scored> Row(string what) => rows.TryGetValue(what, out var found) ? found : rows[what] = [];
    }
}
