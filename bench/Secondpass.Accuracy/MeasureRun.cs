using System.Text;
using Secondpass.Domain.Evidence;
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
        List<Scored> length = [], end = [], width = [], schneider = [], path = [], offCentre = [];
        var (asked, signs, missed, wrong, elsewhere) = (0, 0, 0, 0, 0);
        for (var seed = first; seed < first + count; seed++)
        {
            var pair = PhantomPair.Make(seed, new PairOptions { Residual = 0 });
            var scale = Calibration.From(pair.Before.Geometry.PixelSizeAtTooth, CalibrationSource.Entered).Value;
            var traced = CanalTracer.TraceAll(pair.Before.Radiograph, scale, pair.Clicks(0, ClickPixels, seed)).Value;
            foreach (var branch in traced.SelectMany(trunk => trunk.SelfAndBelow()))
            {
                var truth = pair.Truth.Branch(branch.Name).OnBefore;
                var millimetres = scale.MillimetresPerPixel;
                length.Add(Of(branch.Measures.Length!.Value, truth.LengthMillimetres));
                schneider.Add(Of(branch.Measures.SchneiderDegrees, CanalCurve.Fit(truth.Path).SchneiderDegrees.Value));
                if (branch.Measures.FillingEndToCanalEnd is { } distance)
                {
                    end.Add(Of(distance, (truth.Path.LengthPixels - truth.FilledToPixels!.Value) * millimetres));
                }

                // Compared where it was read.
                if (Steady(truth, millimetres) is { } greatest)
                {
                    asked++;
                    signs += greatest >= FilmSigns.OffCentreDifference.Value ? 1 : 0;
                    if (branch.Measures.OffCentre is { } sign
                        && truth.OffCentreMillimetres(truth.NearestLevel(branch.Path.At(branch.Path.LengthPixels - (sign.AtMillimetresFromEnd / millimetres)))) is { } there)
                    {
                        offCentre.Add(new Scored(
                            sign.DifferenceMillimetres.Value,
                            sign.WiderSideIsLeft ? there : -there,
                            sign.DifferenceMillimetres.Interval.Low,
                            sign.DifferenceMillimetres.Interval.High));
                        var isOff = Math.Abs(there) >= FilmSigns.OffCentreDifference.Value;
                        missed += !sign.IsSign && isOff ? 1 : 0;
                        wrong += sign.IsSign && !isOff ? 1 : 0;
                        elsewhere += !sign.IsSign && !isOff && greatest >= FilmSigns.OffCentreDifference.Value ? 1 : 0;
                    }
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
        text.AppendLine(Errors.Row("filling off centre, mm", offCentre, "0.00"));
        text.AppendLine().AppendLine(CultureInfo.InvariantCulture, $"Of {asked} filled branches {offCentre.Count} have a figure of how far the filling lies off centre; the others say why not. Where it was read, {missed} that lie 0.3 mm or more off centre were missed and {wrong} that don't were taken for one. {elsewhere} with a smaller figure lie farther off at another level, where their surfaces can't be told; {signs} of all do at some level.");
        return text.ToString();
    }

    // The greatest difference that the truth keeps over 1.5 mm of the filled canal; null where it is filled over less.
    private static double? Steady(BranchOnFilm truth, double millimetres)
    {
        const double StepPixels = 4;
        var differences = new List<double?>();
        for (var level = 0.0; level <= truth.Path.LengthPixels; level += StepPixels)
        {
            differences.Add(truth.OffCentreMillimetres(level));
        }

        var window = (int)Math.Ceiling(1.5 / millimetres / StepPixels);
        double? greatest = null;
        for (var first = 0; first + window <= differences.Count; first++)
        {
            var within = differences.Skip(first).Take(window).OfType<double>().Order().ToArray();
            if (within.Length == window)
            {
                greatest = Math.Max(greatest ?? 0, Math.Abs(Errors.Quantile(within, 0.5)));
            }
        }

        return greatest;
    }

    private static Scored Of(Estimate estimate, double truth) => new(estimate.Value, truth, estimate.Interval.Low, estimate.Interval.High);
}
