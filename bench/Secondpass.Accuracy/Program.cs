using System.Diagnostics;
using System.Globalization;
using Secondpass.Domain.Films;
using Secondpass.Phantoms.Truth;
using Secondpass.Radiographs.Compare;

var first = int.Parse(args[0], CultureInfo.InvariantCulture);
var count = int.Parse(args[1], CultureInfo.InvariantCulture);
var size = args.Length > 2 ? double.Parse(args[2], CultureInfo.InvariantCulture) : 1;
var verbose = args.Contains("-v");
var rows = new List<Row>();
var refused = 0;
var times = new List<double>();
for (var seed = first; seed < first + count; seed++)
{
    var pair = PhantomPair.Make(seed, new PairOptions { Change = PairChange.Drawn(seed, size) });
    var scale = Calibration.From(pair.Before.Geometry.PixelSizeAtTooth, CalibrationSource.Entered).Value;
    var request = new ComparisonRequest(
        pair.Before.Radiograph, pair.After.Radiograph, scale, null,
        pair.Clicks(1, 1.5, seed), AfterState.Removed, new Dictionary<string, AfterState>(), []);
    var watch = Stopwatch.StartNew();
    var answer = FilmComparer.Compare(request);
    times.Add(watch.Elapsed.TotalMilliseconds);
    if (!answer.TryGet(out var comparison, out var refusal))
    {
        refused++;
        Console.WriteLine($"seed {seed} {pair.Before.Tooth.Kind}: REFUSED {refusal.Code}: {refusal.Reason}");
        continue;
    }

    foreach (var result in comparison.Branches)
    {
        var truth = pair.Truth.Branch(result.Branch.Name);
        if (result.Refused is not null || truth.Whole is null)
        {
            Console.WriteLine($"seed {seed} {result.Branch.Name}: branch refused {result.Refused?.Code}");
            continue;
        }

        double sum = 0;
        foreach (var d in result.Displacements)
        {
            var level = truth.OnBefore.NearestLevel(result.Branch.Path.At(d.LevelPixels));
            var true_ = truth.DisplacementAt(level);
            sum += Math.Pow(d.Dx - true_.Dx, 2) + Math.Pow(d.Dy - true_.Dy, 2);
        }

        var rms = Math.Sqrt(sum / result.Displacements.Count);
        Add("whole", result.Whole!, truth.Whole);
        foreach (var (third, share) in result.Thirds)
        {
            if (truth.Thirds.TryGetValue(third, out var t))
            {
                Add(third.ToString(), share, t);
            }
        }

        void Add(string where, ResidueShare share, ResidueTruth t)
        {
            if (share.MassPercent is { } m && share.AreaPercent is { } a)
            {
                rows.Add(new Row(seed, result.Branch.Name, where, m.Value, t.MassPercent, m.Interval.Low, m.Interval.High, a.Value, t.AreaPercent, a.Interval.Low, a.Interval.High, rms, truth.OverlapShare));
                if (verbose)
                {
                    Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{seed,5} {pair.Before.Tooth.Kind,-13} {result.Branch.Name,-4} {where,-7} mass {m.Value,6:0.0} [{m.Interval.Low,6:0.0},{m.Interval.High,6:0.0}] true {t.MassPercent,6:0.0}  area {a.Value,6:0.0} [{a.Interval.Low,6:0.0},{a.Interval.High,6:0.0}] true {t.AreaPercent,6:0.0}  reg {rms:0.00}px ov {truth.OverlapShare:0.00} like {comparison.Registration.SharedPercent:0} med {pair.After.Contents.Medium} enl {pair.After.Contents.EnlargementMillimetres:0.00}"));
                }
            }
        }
    }
}

Console.WriteLine($"pairs {count}, refused {refused}, median time {Median(times):0} ms, worst {times.Max():0} ms");
foreach (var where in new[] { "whole", "Coronal", "Middle", "Apical" })
{
    var some = rows.Where(r => r.Where == where && r.Overlap < 0.1).ToList();
    Report(where + " mass", some, r => r.Mass - r.MassTrue, r => r.MassTrue >= r.MassLow && r.MassTrue <= r.MassHigh, r => r.MassHigh - r.MassLow);
    Report(where + " area", some, r => r.Area - r.AreaTrue, r => r.AreaTrue >= r.AreaLow && r.AreaTrue <= r.AreaHigh, r => r.AreaHigh - r.AreaLow);
}

var regs = rows.Where(r => r.Where == "whole").Select(r => r.Rms).ToList();
Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"registration rms median {Median(regs):0.00}, 95th {Quantile(regs, 0.95):0.00} px"));

static void Report(string name, List<Row> rows, Func<Row, double> error, Func<Row, bool> covered, Func<Row, double> width)
{
    if (rows.Count == 0)
    {
        return;
    }

    var errors = rows.Select(error).ToList();
    Console.WriteLine(string.Create(
        CultureInfo.InvariantCulture,
        $"{name,-14} n {rows.Count,4}  |err| median {Median([.. errors.Select(Math.Abs)]),5:0.0} 95th {Quantile([.. errors.Select(Math.Abs)], 0.95),5:0.0}  bias {errors.Average(),5:0.0}  cover {100.0 * rows.Count(covered) / rows.Count,5:0} %  width {Median([.. rows.Select(width)]),5:0.0}"));
}

static double Median(List<double> values) => Quantile(values, 0.5);

static double Quantile(List<double> values, double share)
{
    var sorted = values.Order().ToList();
    return sorted[(int)Math.Round(share * (sorted.Count - 1), MidpointRounding.AwayFromZero)];
}

internal sealed record Row(int Seed, string Branch, string Where, double Mass, double MassTrue, double MassLow, double MassHigh, double Area, double AreaTrue, double AreaLow, double AreaHigh, double Rms, double Overlap);
