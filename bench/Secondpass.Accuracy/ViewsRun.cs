using System.Text;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Quantities;
using Secondpass.Radiographs.Compare;

namespace Secondpass.Accuracy;

/// <summary>Two pairs of films of one tooth from two angles, each alone and both together, against the truth.</summary>
internal static class ViewsRun
{
    /// <summary>The turn that parts the canals of most roots.</summary>
    private static readonly double TurnDegrees = TwoViewFacts.PartingAngle.Value;

    /// <summary>A table.</summary>
    /// <param name="first">First seed.</param>
    /// <param name="count">How many teeth.</param>
    /// <param name="commonDeviation">What both pairs err by together, in percentage points of mass.</param>
    public static string Over(int first, int count, double commonDeviation)
    {
        var all = new List<Row>();
        var apart = 0;
        for (var seed = first; seed < first + count; seed++)
        {
            var (straight, turned) = OwnPairs.Twice(seed, TurnDegrees);
            var (one, other) = (Found(straight), Found(turned));
            foreach (var known in straight.Branches)
            {
                var (here, there) = (Mass(one, known.Name), Mass(other, known.Name));
                if (here is null && there is null)
                {
                    continue;
                }

                var both = here is { } a && there is { } b ? JoinedShare.Of(a, b, commonDeviation) : new JoinedShare((here ?? there)!.Value, Agree: true);
                apart += both.Agree ? 0 : 1;
                all.Add(new Row(
                    known.OverlapShare >= ScoreBook.Overlapped,
                    here is { } alone ? Scored(alone, known, straight) : null,
                    there is { } second ? Scored(second, known, straight) : null,
                    Scored(both.Percent, known, straight)));
            }
        }

        var text = new StringBuilder();
        text.AppendLine(CultureInfo.InvariantCulture, $"**Two pairs of one tooth, the second with the tube turned by {TurnDegrees:0}°**, seeds {first} to {first + count - 1}: the mass left in whole canals, whatever is left. Lain over another: a tenth or more of the filling on the straight film.").AppendLine().AppendLine(Errors.Head);
        foreach (var overlapped in new[] { false, true })
        {
            var words = overlapped ? "lain over another" : "standing free";
            var rows = all.Where(row => row.Overlapped == overlapped).ToArray();
            Add($"{words}, straight pair alone", rows.Select(row => row.Straight));
            Add($"{words}, turned pair alone", rows.Select(row => row.Turned));
            Add($"{words}, both together", rows.Select(row => (Scored?)row.Together));
        }

        text.AppendLine().AppendLine(CultureInfo.InvariantCulture, $"The pairs were said to disagree on {apart} of {all.Count} canals.").AppendLine();
        return text.ToString();

        void Add(string what, IEnumerable<Scored?> scored)
        {
            Scored[] given = [.. scored.OfType<Scored>()];
            if (given.Length > 0)
            {
                text.AppendLine(Errors.Row(what, given, "0.0"));
            }
        }
    }

    private static IReadOnlyList<FoundBranch> Found(KnownPair pair) =>
        FilmComparer.Compare(pair.Request).TryGet(out var comparison, out _) ? FoundBranch.Of(comparison) : [];

    private static Estimate? Mass(IReadOnlyList<FoundBranch> found, string name) => found.FirstOrDefault(branch => branch.Name == name)?.Whole.Mass;

    private static Scored Scored(Estimate estimate, KnownBranch known, KnownPair pair) =>
        new(estimate.Value, known.Whole.Mass, estimate.Interval.Low, estimate.Interval.High) { Pair = pair.Name };

    private sealed record Row(bool Overlapped, Scored? Straight, Scored? Turned, Scored Together);
}
