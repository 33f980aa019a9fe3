using Secondpass.Phantoms.Anatomy;
using Secondpass.Phantoms.Contents;
using Secondpass.Radiographs.Compare;

namespace Secondpass.Accuracy;

/// <summary>Filling moved to where none was, against the truth of simulated pairs: false alarms, and which sizes are found where.</summary>
internal static class MovedRun
{
    /// <summary>How far from its true middle a patch may be found, in mm.</summary>
    private const double NearMillimetres = 0.6;

    private static readonly (double Length, double Width)[] Sizes = [(0.6, 0.35), (0.8, 0.4), (1.0, 0.5), (1.5, 0.7)];

    private static readonly (string Name, ToothOptions Tooth, Func<PhantomTooth, PhantomCanal, double, double> ShortOfEnd)[] Places =
    [
        ("beyond the end", new ToothOptions(), (_, _, length) => -((length / 2) + 0.3)),
        ("below the old filling", new ToothOptions { ShortMillimetres = 3.5 }, (_, _, _) => 1.5),
        ("above the old filling", new ToothOptions { BelowOrificeMillimetres = 4 }, (_, canal, _) => canal.EndY - canal.OrificeY - 2),
    ];

    /// <summary>Writes tables of both, row by row as they come.</summary>
    /// <param name="first">First seed; even seeds are taken with care, odd ones carelessly.</param>
    /// <param name="count">Pairs without moved material; an eighth of them again for each place and size.</param>
    /// <param name="to">Where they are written.</param>
    public static void Write(int first, int count, TextWriter to)
    {
        FalseAlarms(to, Enumerable.Range(first, count));
        to.WriteLine();
        to.WriteLine("| place | length × width, mm | area, mm² | pairs | found |");
        to.WriteLine("| --- | --- | --- | --- | --- |");
        foreach (var (name, tooth, shortOfEnd) in Places)
        {
            foreach (var (length, width) in Sizes)
            {
                var found = Enumerable.Range(first, count / 8).Select(seed => IsFound(seed, tooth, shortOfEnd, length, width)).OfType<bool>().ToArray();
                to.WriteLine(string.Create(CultureInfo.InvariantCulture, $"| {name} | {length:0.0} × {width:0.00} | {Math.PI / 4 * length * width:0.00} | {found.Length} | {found.Count(one => one)} |"));
                to.Flush();
            }
        }
    }

    private static void FalseAlarms(TextWriter to, IEnumerable<int> seeds)
    {
        to.WriteLine("| pairs without moved material | compared | branches | pairs with a false alarm |");
        to.WriteLine("| --- | --- | --- | --- |");
        foreach (var (name, size, some) in new[] { ("taken with care", 1, seeds.Where(seed => seed % 2 == 0)), ("taken carelessly", 2, seeds.Where(seed => seed % 2 == 1)) })
        {
            var compared = some
                .Select(seed => (Seed: seed, Answer: FilmComparer.Compare(OwnPairs.Request(OwnPairs.WithMoved(seed, size, null), seed))))
                .Where(each => each.Answer.IsGiven)
                .Select(each => (each.Seed, Comparison: each.Answer.Value))
                .ToArray();
            var alarms = compared.Where(each => each.Comparison.Moved.Count > 0).Select(each => each.Seed).ToArray();
            to.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"| {name} | {compared.Length} | {compared.Sum(each => each.Comparison.Branches.Count(branch => branch.Refused is null))} | {alarms.Length}{(alarms.Length == 0 ? string.Empty : $" ({string.Join(", ", alarms)})")} |"));
            to.Flush();
        }
    }

    private static bool? IsFound(int seed, ToothOptions options, Func<PhantomTooth, PhantomCanal, double, double> shortOfEnd, double length, double width)
    {
        var pair = OwnPairs.WithMoved(
            seed,
            1 + (seed % 2),
            tooth => tooth.FilledCanals.First(canal => canal.Parent is null) is var canal ? [new MovedPlug(canal.Name, shortOfEnd(tooth, canal, length), length, width)] : [],
            options);
        if (!FilmComparer.Compare(OwnPairs.Request(pair, seed)).TryGet(out var comparison, out _))
        {
            return null;
        }

        var (x, y, z) = pair.After.Contents.Moved[0].Middle(pair.Before.Tooth);
        var at = pair.Before.Geometry.Project(x, y, z);
        return comparison.Moved.Any(moved => moved.Middle.DistanceTo(at) * pair.Before.Geometry.PixelSizeAtTooth <= NearMillimetres);
    }
}
