using System.Globalization;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Films;
using Secondpass.Exchange.Wording;
using Secondpass.Job.Documents;

namespace Secondpass.Job.Shown;

/// <summary>A traced canal with its branches, for drawing and reading.</summary>
/// <param name="Branches">The trunk and all branches, parents before children.</param>
public sealed record TracedCanal(IReadOnlyList<TracedBranchShown> Branches)
{
    /// <summary>The canals of a measured film.</summary>
    public static TracedCanal Of(MeasuredFilm measured)
    {
        ArgumentNullException.ThrowIfNull(measured);
        return new([.. measured.Trunks.SelectMany(trunk => trunk.SelfAndBelow()).Select((branch, index) => TracedBranchShown.Of(branch, measured.Scale, measured.Document.Canals[index]))]);
    }
}

/// <summary>One branch, for drawing and reading.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Path">Its own part of the centre line, [x, y] in pixels.</param>
/// <param name="Edges">The filling's two edges where it is seen: runs of rows [x left, y left, x right, y right] in pixels.</param>
/// <param name="Band">Where the canal's middle may run (95 %): rows [x left, y left, x right, y right] in pixels.</param>
/// <param name="Words">Length and filling in one line, with their intervals.</param>
/// <param name="Signs">Signs of something missed, in sentences; may be empty.</param>
/// <param name="Figures">Everything that was measured, [name, value] line by line.</param>
/// <param name="More">What is rarely asked: the filling's size and published criteria, in sentences; may be empty.</param>
/// <param name="Measures">The same as the command writes it.</param>
public sealed record TracedBranchShown(
    string Name,
    IReadOnlyList<double[]> Path,
    IReadOnlyList<IReadOnlyList<double[]>> Edges,
    IReadOnlyList<double[]> Band,
    string Words,
    IReadOnlyList<string> Signs,
    IReadOnlyList<string[]> Figures,
    IReadOnlyList<string> More,
    MeasuredCanalDocument Measures)
{
    private const double DirectionReachPixels = 4;

    /// <summary>A branch with what was measured along it.</summary>
    /// <param name="branch">The branch, without those below it.</param>
    /// <param name="scale">Scale of the film; null: no millimetres.</param>
    /// <param name="measures">Its entry in the document.</param>
    public static TracedBranchShown Of(TracedBranch branch, Calibration? scale, MeasuredCanalDocument measures)
    {
        ArgumentNullException.ThrowIfNull(branch);
        var path = branch.Path.Points.Where((_, index) => branch.Path.LevelsPixels[index] > branch.OwnFromPixels).Prepend(branch.Path.At(branch.OwnFromPixels));
        return new TracedBranchShown(
            branch.Name,
            [.. path.Select(point => new[] { Shown(point.X), Shown(point.Y) })],
            EdgesOf(branch),
            BandOf(branch),
            MeasureWords.Line(branch, withIntervals: true),
            SignsOf(branch, scale),
            [.. CanalFigures.Of(branch, scale).Select(figure => new[] { figure.Name, figure.Value })],
            [
                .. branch.Measures.Cone is { } cone ? [MeasureWords.Cone(cone)] : Array.Empty<string>(),
                .. FillingQuality.Of(branch.Measures).Select(criterion => criterion.InWords),
            ],
            measures);
    }

    private static List<IReadOnlyList<double[]>> EdgesOf(TracedBranch branch)
    {
        var runs = new List<IReadOnlyList<double[]>>();
        var run = new List<double[]>();
        foreach (var sample in branch.Filling.Samples)
        {
            if (sample.LevelPixels < branch.OwnFromPixels || sample.FillingWidthPixels is not { } width)
            {
                End();
                continue;
            }

            var direction = branch.Path.DirectionAt(sample.LevelPixels, DirectionReachPixels);
            var left = new PixelPoint(direction.Y, -direction.X);
            var middle = branch.Path.At(sample.LevelPixels) + (left * sample.CentreOffsetPixels);
            var (from, to) = (middle + (left * (width.Value / 2)), middle - (left * (width.Value / 2)));
            run.Add([Shown(from.X), Shown(from.Y), Shown(to.X), Shown(to.Y)]);
        }

        End();
        return runs;

        void End()
        {
            if (run.Count > 1)
            {
                runs.Add(run);
            }

            run = [];
        }
    }

    private static List<double[]> BandOf(TracedBranch branch)
    {
        const double Deviations95 = 1.96;
        var band = new List<double[]>();
        for (var i = 0; i < branch.PathDeviationsPixels.Count; i++)
        {
            var level = branch.Path.LevelsPixels[i];
            if (level < branch.OwnFromPixels)
            {
                continue;
            }

            var direction = branch.Path.DirectionAt(level, DirectionReachPixels);
            var aside = new PixelPoint(direction.Y, -direction.X) * (Deviations95 * branch.PathDeviationsPixels[i]);
            var (left, right) = (branch.Path.Points[i] + aside, branch.Path.Points[i] - aside);
            band.Add([Shown(left.X), Shown(left.Y), Shown(right.X), Shown(right.Y)]);
        }

        return band;
    }

    private static List<string> SignsOf(TracedBranch branch, Calibration? scale)
    {
        var signs = new List<string>();
        if (branch.Measures.OffCentre is { IsSign: true } sign)
        {
            signs.Add(string.Create(
                CultureInfo.InvariantCulture,
                $"The filling lies {sign.DifferenceMillimetres.Value:0.0} mm off centre in its root, {sign.AtMillimetresFromEnd:0.0} mm from the canal's end: from {FilmSigns.OffCentreDifference.Value:0.0} mm on this is associated with an unfilled canal ({FilmSigns.OffCentreDifference.Source.Split(':')[0]})."));
        }

        if (branch.Measures.WhyNoFillingEnd is { } hidden)
        {
            signs.Add(hidden);
        }

        if (branch.Measures is { Length: not null, WhyNoOffCentre: { } why })
        {
            signs.Add(why);
        }

        signs.AddRange(branch.Measures.Voids.Select(gap => MeasureWords.Void(gap, branch.Measures.LengthPixels, scale)));
        return signs;
    }

    private static double Shown(double pixels) => Math.Round(pixels, 2, MidpointRounding.AwayFromZero);
}
