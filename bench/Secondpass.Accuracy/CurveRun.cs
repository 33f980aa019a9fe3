using System.Text;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Films;
using Secondpass.Phantoms.Anatomy;
using Secondpass.Phantoms.Truth;
using Secondpass.Radiographs.Trace;

namespace Secondpass.Accuracy;

/// <summary>Angles and radii of canals that curve more than usual, each alone in its root, against the truth of simulated films.</summary>
internal static class CurveRun
{
    /// <summary>Runs films and writes the table.</summary>
    /// <param name="first">First seed.</param>
    /// <param name="count">How many films.</param>
    /// <param name="clickPixels">Standard deviation of a click, in pixels.</param>
    public static string Over(int first, int count, double clickPixels)
    {
        List<Scored> radius = [], turn = [], schneider = [];
        var (clear, slight, told) = (0, 0, 0);
        for (var seed = first; seed < first + count; seed++)
        {
            var pair = Curved(seed);
            var scale = Calibration.From(pair.Before.Geometry.PixelSizeAtTooth, CalibrationSource.Entered).Value;
            foreach (var branch in CanalTracer.TraceAll(pair.Before.Radiograph, scale, pair.Clicks(0, clickPixels, seed)).Value)
            {
                var curve = CanalCurve.Fit(pair.Truth.Branch(branch.Name).OnBefore.Path);
                var sagitta = curve.SagittaPixels * scale.MillimetresPerPixel;
                var found = branch.Measures.Pruett;
                if (curve.PruettDegrees.Value < MeasurementLimits.LeastTurn.Value || sagitta < MeasurementLimits.LeastSagitta.Value)
                {
                    slight++;
                    told += found.RadiusMillimetres is null ? 0 : 1;
                }

                if (curve.PruettDegrees.Value < MeasurementLimits.LeastTurn.Value || sagitta < MeasureRun.ClearSagittaMillimetres)
                {
                    continue;
                }

                clear++;
                if (branch.Measures.SchneiderDegrees is { } angle)
                {
                    schneider.Add(Scored.Of(angle, curve.SchneiderDegrees.Value));
                }

                if (found is { AngleDegrees: { } turned, RadiusMillimetres: { } bend })
                {
                    turn.Add(Scored.Of(turned, curve.PruettDegrees.Value));
                    var percent = 100 / (curve.PruettRadiusPixels.Value * scale.MillimetresPerPixel);
                    radius.Add(new Scored(bend.Value * percent, 100, bend.Interval.Low * percent, bend.Interval.High * percent));
                }
            }
        }

        var text = new StringBuilder();
        text.AppendLine(CultureInfo.InvariantCulture, $"Canals that curve by 15° to 55° with a radius of 3 to 12 mm, each alone in its root ({count} films, seeds {first} to {first + count - 1}), where the sagitta is {MeasureRun.ClearSagittaMillimetres:0.0} mm or more:");
        text.AppendLine().AppendLine(Errors.Head);
        text.AppendLine(Errors.Row("radius after Pruett, % of the true one", radius, "0.0"));
        text.AppendLine(Errors.Row("angle after Pruett, degrees", turn, "0.0"));
        text.AppendLine(Errors.Row("angle after Schneider, degrees", schneider, "0.0"));
        text.AppendLine().AppendLine(CultureInfo.InvariantCulture, $"Of {clear} such canals {clear - radius.Count} have no radius, because another filling lies over them or too little holds their path. Of {slight} canals on the same films below 15° or a sagitta of 0.15 mm {told} were given one.");
        return text.ToString();
    }

    private static PhantomPair Curved(int seed)
    {
        var random = new Random(seed);
        return PhantomPair.Make(seed, new PairOptions
        {
            Kind = (seed % 3) switch { 0 => ToothKind.UpperIncisor, 1 => ToothKind.LowerPremolar, _ => ToothKind.UpperMolar },
            Residual = 0,
            Change = PairChange.None,
            Tooth = new ToothOptions
            {
                // An incisor curves by six tenths of what is asked.
                CurveDegrees = (15 + (40 * random.NextDouble())) / (seed % 3 == 0 ? 0.6 : 1),
                CurveRadiusMillimetres = 3 + (9 * random.NextDouble()),
                HiddenCurveShare = (0.6 * random.NextDouble()) - 0.3,
                Splits = false,
                SecondCanalMissed = true,
            },
        });
    }
}
