using System.Diagnostics;
using System.Text;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;
using Secondpass.Phantoms.Imaging;
using Secondpass.Phantoms.Truth;
using Secondpass.Radiographs.Trace;

namespace Secondpass.Accuracy;

/// <summary>Lengths, widths and angles from two rough clicks, against the truth of simulated films.</summary>
internal static class MeasureRun
{
    /// <summary>Standard deviation of a click, in pixels.</summary>
    public const double ClickPixels = 1.7;

    /// <summary>Sagitta from which a radius is clear enough to be scored, in mm.</summary>
    public const double ClearSagittaMillimetres = 0.3;

    /// <summary>Films that are traced before times are taken.</summary>
    private const int WarmingUp = 5;

    /// <summary>Runs films and writes the table.</summary>
    /// <param name="first">First seed.</param>
    /// <param name="count">How many films.</param>
    public static string Over(int first, int count)
    {
        List<Scored> length = [], end = [], width = [], widthOver = [], schneider = [], turn = [], radius = [], path = [], offCentre = [], taper = [], size = [], empty = [], wall = [], density = [], voidLength = [], voidShare = [];
        var general = new General();
        var (branches, curved, endsRefused, seconds, timed) = (0, 0, 0, 0.0, 0);
        var films = Directory.CreateTempSubdirectory("secondpass-measure-");
        var (asked, signs, missed, wrong, elsewhere) = (0, 0, 0, 0, 0);
        var (clearVoids, seenVoids, noVoids) = (0, 0, 0);
        for (var seed = first; seed < first + count; seed++)
        {
            var pair = PhantomPair.Make(seed, new PairOptions { Residual = 0 });
            var scale = Calibration.From(pair.Before.Geometry.PixelSizeAtTooth, CalibrationSource.Entered).Value;
            var clicks = pair.Clicks(0, ClickPixels, seed);
            var watch = Stopwatch.StartNew();
            var traced = CanalTracer.TraceAll(pair.Before.Radiograph, scale, clicks).Value;
            if (seed >= first + WarmingUp)
            {
                seconds += watch.Elapsed.TotalSeconds;
                timed += traced.Sum(trunk => trunk.SelfAndBelow().Count());
            }

            var folder = Path.Combine(films.FullName, seed.ToString("00000", CultureInfo.InvariantCulture));
            GeneralMeasures.Write(folder, pair.Before.Radiograph, scale, clicks);
            general.Films.Add((folder, pair));
            foreach (var branch in traced.SelectMany(trunk => trunk.SelfAndBelow()))
            {
                var truth = pair.Truth.Branch(branch.Name).OnBefore;
                var millimetres = scale.MillimetresPerPixel;
                length.Add(Scored.Of(branch.Measures.Length!.Value, truth.LengthMillimetres));
                branches++;
                var curve = CanalCurve.Fit(truth.Path);
                if (branch.Measures.SchneiderDegrees is { } angle)
                {
                    schneider.Add(Scored.Of(angle, curve.SchneiderDegrees.Value));
                }

                if (curve.PruettDegrees.Value >= MeasurementLimits.LeastTurn.Value && curve.SagittaPixels * millimetres >= ClearSagittaMillimetres)
                {
                    curved++;
                    if (branch.Measures.Pruett is { AngleDegrees: { } turned, RadiusMillimetres: { } bend })
                    {
                        turn.Add(Scored.Of(turned, curve.PruettDegrees.Value));
                        var true100 = 100 / (curve.PruettRadiusPixels.Value * millimetres);
                        radius.Add(new Scored(bend.Value * true100, 100, bend.Interval.Low * true100, bend.Interval.High * true100));
                    }
                }

                if (branch.Measures.Cone is { } cone && TrueCone(truth, millimetres) is { } trueCone)
                {
                    taper.Add(Scored.Of(cone.TaperMillimetresPerMillimetre, trueCone.Taper));
                    size.Add(Scored.Of(cone.EndWidthMillimetres, trueCone.Width));
                }

                endsRefused += branch.Measures.WhyNoFillingEnd is null ? 0 : 1;
                if (branch.Measures.FillingEndToCanalEnd is { } distance)
                {
                    end.Add(Scored.Of(distance, (truth.Path.LengthPixels - truth.FilledToPixels!.Value) * millimetres));
                }

                foreach (var sample in branch.CanalWidths)
                {
                    if (truth.CanalEdges(truth.NearestLevel(branch.Path.At(sample.LevelPixels))) is { } lumen)
                    {
                        empty.Add(InMillimetres(sample.WidthPixels, lumen.Left - lumen.Right, millimetres));
                    }
                }

                foreach (var sample in branch.Walls)
                {
                    var level = truth.NearestLevel(branch.Path.At(sample.LevelPixels));
                    if (truth.FillingEdges(level) is { } filling && truth.RootEdges(level) is { } root)
                    {
                        foreach (var (found, thick) in new[] { (sample.LeftPixels, root.Left - filling.Left), (sample.RightPixels, filling.Right - root.Right) })
                        {
                            if (found is { } pixels)
                            {
                                wall.Add(Scored.Of(WallSample.InMillimetres(pixels, scale), thick * millimetres));
                            }
                        }
                    }
                }

                var trueVoids = VoidTruth.Of(branch, truth);
                clearVoids += trueVoids.Count(one => one.IsClear(millimetres));
                seenVoids += trueVoids.Count(one => one.IsClear(millimetres) && branch.Measures.Voids.Any(one.Meets));
                noVoids += branch.Measures.Voids.Count(gap => !trueVoids.Any(one => one.Meets(gap)));
                foreach (var (gap, one) in branch.Measures.Voids.SelectMany(gap => trueVoids.Where(one => one.Meets(gap)).Take(1).Select(one => (gap, one))))
                {
                    voidLength.Add(Scored.Of(gap.Length(scale), one.HalfDepthPixels * millimetres));
                    voidShare.Add(Scored.Of(gap.MissingPercent, 100 * one.GreatestShare));
                }

                density.AddRange(Densities(branch, truth, pair.Before.FillingThickness[branch.Name]));

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
                        (sample.IsOverlapped ? widthOver : width).Add(new Scored(
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
        text.AppendLine(Errors.Row("filling width where another filling lies over it, mm", widthOver, "0.00"));
        text.AppendLine(Errors.Row("angle after Schneider, degrees", schneider, "0.0"));
        Row(text, "angle after Pruett, degrees", turn);
        Row(text, "radius after Pruett, % of the true one", radius);
        text.AppendLine(Errors.Row("filling's width at its end (size), mm", size, "0.00"));
        text.AppendLine(Errors.Row("filling's taper, mm per mm", taper, "0.000"));
        text.AppendLine(Errors.Row("path beside the canal's middle, mm (no interval)", path, "0.00"));
        text.AppendLine(Errors.Row("filling off centre, mm", offCentre, "0.00"));
        Row(text, "width of the canal where it is unfilled, mm", empty, "0.00");
        Row(text, "from the filling's edge to the root's outline, mm", wall, "0.00");
        Row(text, "filling's density along it, % of its median", density);
        Row(text, "length of a void, mm", voidLength, "0.00");
        Row(text, "what is missing at a void, % of the section", voidShare);
        text.AppendLine().AppendLine(CultureInfo.InvariantCulture, $"Of {branches} branches {endsRefused} have no filling end, {branches - schneider.Count} no angle after Schneider, {branches - size.Count} no size and taper, and of the {curved} that turn by {MeasurementLimits.LeastTurn.Value:0}° and rise {ClearSagittaMillimetres:0.0} mm or more {curved - radius.Count} no radius after Pruett, because another filling lies over them or too little holds their path; each says so.");
        text.AppendLine().AppendLine(CultureInfo.InvariantCulture, $"Of {clearVoids} voids of a fifth of the section and more and at least 0.4 mm long, where the filling is seen alone, {seenVoids} were found; {noVoids} were found on the {branches} branches where the simulator has none.");
        text.AppendLine().Append(CurveRun.Over(first, count, ClickPixels));
        GeneralMeasures.Run(films.FullName);
        general.Write(text, new Ours(length, end, [.. width, .. widthOver], schneider), seconds / Math.Max(1, timed), WarmingUp);
        films.Delete(recursive: true);
        text.AppendLine().AppendLine(CultureInfo.InvariantCulture, $"Of {asked} filled branches {offCentre.Count} have a figure of how far the filling lies off centre; the others say why not. Where it was read, {missed} that lie 0.3 mm or more off centre were missed and {wrong} that don't were taken for one. {elsewhere} with a smaller figure lie farther off at another level, where their surfaces can't be told; {signs} of all do at some level.");
        return text.ToString();
    }

    private static Scored InMillimetres(Estimate pixels, double truthPixels, double millimetres) =>
        new(pixels.Value * millimetres, truthPixels * millimetres, pixels.Interval.Low * millimetres, pixels.Interval.High * millimetres);

    // The truth: filling along the rays across the path, beside the square of the filling's width; in percent of its median, as what was found.
    private static IEnumerable<Scored> Densities(TracedBranch branch, BranchOnFilm truth, ThicknessMap thickness)
    {
        const int ReachPixels = 30;
        var rows = branch.Filling.Densities()
            .Where(row => row.LevelPixels > branch.OwnFromPixels + 20)
            .Select(row => (row.Percent, Width: truth.FillingEdges(truth.NearestLevel(branch.Path.At(row.LevelPixels))) is { } edges ? edges.Left - edges.Right : 0, Mass: Mass(row.LevelPixels)))
            .Where(row => row.Width > 2)
            .Select(row => (row.Percent, True: row.Mass / (row.Width * row.Width)))
            .ToList();
        if (rows.Count == 0)
        {
            return [];
        }

        var usual = Errors.Quantile([.. rows.Select(row => row.True).Order()], 0.5);
        return rows.Select(row => Scored.Of(row.Percent, 100 * row.True / usual));

        double Mass(double level)
        {
            var (at, along) = (branch.Path.At(level), branch.Path.DirectionAt(level, 6));
            double sum = 0;
            for (var offset = -ReachPixels; offset <= ReachPixels; offset++)
            {
                var x = (int)Math.Round(at.X + (along.Y * offset), MidpointRounding.AwayFromZero);
                var y = (int)Math.Round(at.Y - (along.X * offset), MidpointRounding.AwayFromZero);
                sum += thickness[x, y];
            }

            return sum;
        }
    }

    // The least-squares line through the true widths up to 6 mm from the filling's end, its rounded end left out.
    private static (double Width, double Taper)? TrueCone(BranchOnFilm truth, double millimetres)
    {
        var rows = new List<(double FromEnd, double Width)>();
        for (var fromEnd = 0.35; fromEnd <= 6; fromEnd += 0.1)
        {
            var level = truth.FilledToPixels!.Value - (fromEnd / millimetres);
            if (level > truth.OwnFromPixels + 20 && level <= truth.Path.LengthPixels && truth.FillingEdges(level) is { } edges)
            {
                rows.Add((fromEnd, Math.Abs(edges.Left - edges.Right) * millimetres));
            }
        }

        if (rows.Count < 10)
        {
            return null;
        }

        var (x, y) = (rows.Average(row => row.FromEnd), rows.Average(row => row.Width));
        var taper = rows.Sum(row => (row.FromEnd - x) * (row.Width - y)) / rows.Sum(row => (row.FromEnd - x) * (row.FromEnd - x));
        return (y - (taper * x), taper);
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

    private static void Row(StringBuilder text, string what, List<Scored> scored, string format = "0.0")
    {
        if (scored.Count > 0)
        {
            text.AppendLine(Errors.Row(what, scored, format));
        }
    }

    /// <summary>Own estimates, to stand beside those of the general pipeline.</summary>
    private sealed record Ours(List<Scored> Length, List<Scored> End, List<Scored> Width, List<Scored> Schneider);

    /// <summary>The general pipeline on the same films.</summary>
    private sealed class General
    {
        public List<(string Folder, PhantomPair Pair)> Films { get; } = [];

        public void Write(StringBuilder text, Ours ours, double ownSeconds, int warmingUp)
        {
            List<Scored> length = [], end = [], width = [], schneider = [];
            List<double> trace = [], seconds = [];
            foreach (var (index, (folder, pair)) in Films.Index())
            {
                var millimetres = pair.Before.Geometry.PixelSizeAtTooth;
                foreach (var found in GeneralMeasures.Read(folder))
                {
                    var truth = pair.Truth.Branch(found.Name).OnBefore;
                    length.Add(Plain(found.LengthMm, truth.LengthMillimetres));
                    end.Add(Plain(found.FillEndMm, (truth.Path.LengthPixels - truth.FilledToPixels!.Value) * millimetres));
                    schneider.Add(Plain(found.SchneiderDeg, CanalCurve.Fit(truth.Path).SchneiderDegrees.Value));
                    foreach (var row in found.Widths)
                    {
                        var level = truth.NearestLevel(new PixelPoint(row[0], row[1]));
                        if (level > truth.OwnFromPixels + 20 && truth.FillingEdges(level) is { } edges)
                        {
                            width.Add(Plain(row[2], Math.Abs(edges.Left - edges.Right) * millimetres));
                        }
                    }

                    if (index >= warmingUp)
                    {
                        trace.Add(found.TraceSeconds);
                        seconds.Add(found.Seconds);
                    }
                }
            }

            text.AppendLine().AppendLine("Beside a general-purpose path on the same films and marks (scikit-image's `route_through_array`, half contrast for widths and ends: `bench/general_measure.py`), which refuses nothing:");
            text.AppendLine().AppendLine("| what | n | median error | 95th percentile | n, general | median error, general | 95th percentile, general |").AppendLine("| --- | --- | --- | --- | --- | --- | --- |");
            Row("length, mm", ours.Length, length, "0.00");
            Row("filling end to canal end, mm", ours.End, end, "0.00");
            Row("filling width, mm", ours.Width, width, "0.00");
            Row("angle after Schneider, degrees", ours.Schneider, schneider, "0.0");
            if (trace.Count > 0)
            {
                text.AppendLine().AppendLine(CultureInfo.InvariantCulture, $"One canal takes {ownSeconds / seconds.Average():0.0} times what the general path with its measures takes in the same run, and {ownSeconds / trace.Average():0.0} times what its `route_through_array` alone does; path, widths, end, walls and curves are all in it.");
            }

            void Row(string what, List<Scored> own, List<Scored> other, string format)
            {
                string[] cells = [what, .. Cells(own, format), .. Cells(other, format)];
                text.AppendLine("| " + string.Join(" | ", cells) + " |");
            }
        }

        private static string[] Cells(List<Scored> scored, string format)
        {
            var sizes = Errors.Sizes(scored);
            return [scored.Count.ToString(CultureInfo.InvariantCulture), .. new[] { 0.5, 0.95 }.Select(share => Errors.Quantile(sizes, share).ToString(format, CultureInfo.InvariantCulture))];
        }

        private static Scored Plain(double value, double truth) => new(value, truth, value, value);
    }
}
