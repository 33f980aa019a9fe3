using System.Globalization;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;

namespace Secondpass.Exchange.Wording;

/// <summary>One thing that was measured along a canal, for a list.</summary>
/// <param name="Name">What it is, such as "Curve after Schneider".</param>
/// <param name="Value">The figure with its 95 % interval, or why there is none.</param>
public sealed record CanalFigure(string Name, string Value);

/// <summary>Everything that was measured along a branch, line by line.</summary>
public static class CanalFigures
{
    /// <summary>The lines of one branch.</summary>
    /// <param name="branch">The branch, without those below it.</param>
    /// <param name="scale">Scale of the film; null leaves out what needs millimetres.</param>
    public static IReadOnlyList<CanalFigure> Of(TracedBranch branch, Calibration? scale)
    {
        ArgumentNullException.ThrowIfNull(branch);
        var measures = branch.Measures;
        var figures = new List<CanalFigure>();
        Add("Length", measures.Length is { } length ? EstimateWords.Millimetres(length, 1) : null);
        Add("Filled", Filled(branch));
        Add("Filling ends", measures.FillingEndToCanalEnd is { } end ? MeasureWords.FillingEndWithin(end) : measures.WhyNoFillingEnd);
        Add("Curve after Schneider", measures.SchneiderDegrees is { } angle ? EstimateWords.Degrees(angle) : measures.WhyNoSchneider);
        Add("Curve after Pruett", EstimateWords.Pruett(measures.Pruett) ?? measures.Pruett.WhyNone);
        if (scale is null)
        {
            return figures;
        }

        Add("Filling’s width", FillingWidths(branch, scale));
        Add("Density along it", Densities(branch, scale));
        Add("Canal without filling", EmptyWidths(branch, scale) ?? branch.WhyNoCanalWidth);
        Add("Thinnest wall seen", ThinnestWall(branch, scale) ?? branch.WhyNoWalls);
        Add("Filling off centre", measures.OffCentre is { } offCentre ? EstimateWords.Millimetres(offCentre.DifferenceMillimetres, 2) : measures.WhyNoOffCentre);
        return figures;

        void Add(string name, string? value)
        {
            if (value is not null)
            {
                figures.Add(new CanalFigure(name, value));
            }
        }
    }

    /// <summary>How wide the canal is where it holds no filling; null where none is seen.</summary>
    /// <param name="branch">The branch.</param>
    /// <param name="scale">Scale of the film.</param>
    /// <returns>Such as "0.31 to 0.62 mm wide between 4.0 mm and 0.5 mm from the canal's end".</returns>
    public static string? EmptyWidths(TracedBranch branch, Calibration scale)
    {
        ArgumentNullException.ThrowIfNull(branch);
        ArgumentNullException.ThrowIfNull(scale);
        if (branch.CanalWidths is not [var first, .., var last])
        {
            return null;
        }

        var widths = branch.CanalWidths.Select(at => at.WidthPixels.Value * scale.MillimetresPerPixel).ToArray();
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{widths.Min():0.00} to {widths.Max():0.00} mm wide between {FromEnd(branch, first.LevelPixels, scale)} and {FromEnd(branch, last.LevelPixels, scale)} from the canal's end");
    }

    /// <summary>The thinnest wall that is seen beside the filling; null where none is.</summary>
    /// <param name="branch">The branch.</param>
    /// <param name="scale">Scale of the film.</param>
    /// <returns>Such as "0.92 (0.37–1.07) mm, 3.2 mm from the canal's end".</returns>
    public static string? ThinnestWall(TracedBranch branch, Calibration scale)
    {
        ArgumentNullException.ThrowIfNull(branch);
        ArgumentNullException.ThrowIfNull(scale);
        var walls = branch.Walls
            .SelectMany(wall => new[] { (wall.LevelPixels, Wall: wall.LeftPixels), (wall.LevelPixels, Wall: wall.RightPixels) })
            .Where(at => at.Wall is not null)
            .ToList();
        if (walls.Count == 0)
        {
            return null;
        }

        var (level, wall) = walls.MinBy(at => at.Wall);
        return $"{EstimateWords.Millimetres(WallSample.InMillimetres(wall!.Value, scale), 2)}, {FromEnd(branch, level, scale)} from the canal's end";
    }

    private static string Filled(TracedBranch branch) => branch.Filling.FilledToPixels is null
        ? "no filling seen"
        : $"over {ResidueWords.Percent(branch.Measures.FilledPercent)} of the length";

    // Near the orifice the chamber is read as well, and the last row before the end is blurred: places inside both.
    private static string? FillingWidths(TracedBranch branch, Calibration scale)
    {
        var seen = branch.Filling.Samples.Where(sample => sample.FillingWidthPixels is not null && !sample.IsOverlapped && sample.LevelPixels >= branch.OwnFromPixels).ToArray();
        return seen.Length < 20
            ? null
            : string.Join("; ", new[] { 0.15, 0.5, 0.9 }.Select(share => seen[(int)(share * (seen.Length - 1))]).Select(sample =>
                $"{EstimateWords.Millimetres(scale.InMillimetres(sample.FillingWidthPixels!.Value), 2)} at {FromEnd(branch, sample.LevelPixels, scale)}"));
    }

    private static string? Densities(TracedBranch branch, Calibration scale)
    {
        var densities = branch.Filling.Densities();
        if (densities.Count == 0)
        {
            return null;
        }

        var (level, least) = densities.MinBy(at => at.Percent.Value);
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{least.Value:0} to {densities.Max(at => at.Percent.Value):0} % of its own median; least {FromEnd(branch, level, scale)} from the canal's end ({least.Interval.Low:0}–{least.Interval.High:0} %)");
    }

    private static string FromEnd(TracedBranch branch, double levelPixels, Calibration scale) =>
        MeasureWords.Length(new Millimetres((branch.Path.LengthPixels - levelPixels) * scale.MillimetresPerPixel));
}
