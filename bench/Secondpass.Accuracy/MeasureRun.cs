using System.Globalization;
using System.Text;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;
using Secondpass.Phantoms.Truth;
using Secondpass.Radiographs.Trace;

namespace Secondpass.Accuracy;

/// <summary>Lengths, widths and angles from two rough clicks, against the truth of simulated films.</summary>
internal static class MeasureRun
{
    /// <summary>Standard deviation of a click, in pixels.</summary>
    private const double ClickPixels = 1.7;

    /// <summary>Runs films and writes the table.</summary>
    /// <param name="first">First seed.</param>
    /// <param name="count">How many films.</param>
    public static string Over(int first, int count)
    {
        List<Scored> length = [], end = [], width = [], schneider = [], path = [];
        for (var seed = first; seed < first + count; seed++)
        {
            var pair = PhantomPair.Make(seed, new PairOptions { Residual = 0 });
            var scale = Calibration.From(pair.Before.Geometry.PixelSizeAtTooth, CalibrationSource.Entered).Value;
            foreach (var branch in pair.Clicks(0, ClickPixels, seed).SelectMany(clicks => CanalTracer.Trace(pair.Before.Radiograph, scale, clicks).Value.SelfAndBelow()))
            {
                var truth = pair.Truth.Branch(branch.Name).OnBefore;
                var millimetres = scale.MillimetresPerPixel;
                length.Add(Of(branch.Measures.Length!.Value, truth.LengthMillimetres));
                schneider.Add(Of(branch.Measures.SchneiderDegrees, CanalCurve.Fit(truth.Path).SchneiderDegrees.Value));
                if (branch.Measures.FillingEndToCanalEnd is { } distance)
                {
                    end.Add(Of(distance, (truth.Path.LengthPixels - truth.FilledToPixels!.Value) * millimetres));
                }

                foreach (var sample in branch.Filling.Samples.Where(sample => sample.LevelPixels > branch.OwnFromPixels + 20))
                {
                    var place = branch.Path.At(sample.LevelPixels);
                    var level = truth.NearestLevel(place);
                    path.Add(new Scored(truth.Path.At(level).DistanceTo(place) * millimetres, 0, 0, 0));
                    if (sample.FillingWidthPixels is { } found && truth.FillingEdges(level) is { } edges)
                    {
                        width.Add(new Scored(
                            found.Value * millimetres,
                            Math.Abs(edges.Left - edges.Right) * millimetres,
                            found.Interval.Low * millimetres,
                            found.Interval.High * millimetres));
                    }
                }
            }
        }

        var text = new StringBuilder();
        text.AppendLine(CultureInfo.InvariantCulture, $"{count} films, seeds {first} to {first + count - 1}, two clicks a canal, each off by {ClickPixels:0.0} px (standard deviation).");
        text.AppendLine().AppendLine(Errors.Head);
        text.AppendLine(Errors.Row("length, mm", length, "0.00"));
        text.AppendLine(Errors.Row("filling end to canal end, mm", end, "0.00"));
        text.AppendLine(Errors.Row("filling width, mm", width, "0.00"));
        text.AppendLine(Errors.Row("angle after Schneider, degrees", schneider, "0.0"));
        text.AppendLine(Errors.Row("path beside the canal's middle, mm (no interval)", path, "0.00"));
        return text.ToString();
    }

    private static Scored Of(Estimate estimate, double truth) => new(estimate.Value, truth, estimate.Interval.Low, estimate.Interval.High);
}
