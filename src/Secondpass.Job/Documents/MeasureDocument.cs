using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;

namespace Secondpass.Job.Documents;

/// <summary>The answer of <c>measure</c>.</summary>
/// <param name="Schema">Always 1.</param>
/// <param name="Canals">One entry per branch, parents before children.</param>
/// <param name="Notices">What the dentist should know.</param>
[Description("What measure answers: lengths, curvature and widths of each canal branch, as projected on one film.")]
public sealed record MeasureDocument(
    [property: Description("Always 1."), AllowedValues(1)] int Schema,
    [property: Description("One entry per branch, parents before children.")] IReadOnlyList<MeasuredCanalDocument> Canals,
    [property: Description("What the dentist should know about this film, in sentences.")] IReadOnlyList<string> Notices)
{
    /// <summary>The document of traced canals.</summary>
    /// <param name="trunks">The canals, with their branches.</param>
    /// <param name="scale">Scale of the film; null leaves the members in mm null.</param>
    /// <param name="notices">What the dentist should know about this film, in sentences.</param>
    public static MeasureDocument From(IEnumerable<TracedBranch> trunks, Calibration? scale, IReadOnlyList<string> notices)
    {
        ArgumentNullException.ThrowIfNull(trunks);
        return new MeasureDocument(1, [.. trunks.SelectMany(trunk => trunk.SelfAndBelow()).Select(branch => MeasuredCanalDocument.From(branch, scale))], notices);
    }
}

/// <summary>One branch measured.</summary>
/// <param name="Name">Its name.</param>
/// <param name="LengthMm">Length along the path.</param>
/// <param name="LengthPx">The same in pixels.</param>
/// <param name="FilledLengthMm">Length of path along which filling is seen.</param>
/// <param name="FilledPercent">The same as a share of the length.</param>
/// <param name="FillEndMm">Filling end to canal end.</param>
/// <param name="FillEndWhyNone">Why there is none.</param>
/// <param name="SchneiderDeg">Angle after Schneider.</param>
/// <param name="SchneiderWhyNone">Why there is none.</param>
/// <param name="PruettDeg">Angle after Pruett.</param>
/// <param name="PruettRadiusMm">Radius after Pruett.</param>
/// <param name="PruettWhyNone">Why there is none.</param>
/// <param name="FillingWidth">Width of the filling.</param>
/// <param name="CanalWidth">Width of the canal where unfilled.</param>
/// <param name="OffCentreMm">Off-centre sign.</param>
/// <param name="OffCentreIsSign">Whether it reaches the published value.</param>
/// <param name="OffCentreWhyNone">Why there is none.</param>
/// <param name="Voids">Gaps in the filling.</param>
/// <param name="Intervals">95 % intervals of the single values.</param>
[Description("One canal branch measured.")]
public sealed record MeasuredCanalDocument(
    [property: Description("The branch's name.")] string Name,
    [property: Description("Length along the path from orifice to end, in mm; null without a scale.")] double? LengthMm,
    [property: Description("The same in pixels.")] double LengthPx,
    [property: Description("Length of path along which filling is seen, in mm; null without a scale.")] double? FilledLengthMm,
    [property: Description("The same in percent of the length.")] double FilledPercent,
    [property: Description("From the end of the filling to the end of the canal, in mm: short is positive, beyond is negative; null without a scale or a filling, or where another filling hides it.")] double? FillEndMm,
    [property: Description("Why there is no fill_end_mm although filling is seen and the scale is known, in a sentence; null otherwise.")] string? FillEndWhyNone,
    [property: Description("Angle after Schneider 1971, in degrees, as projected; null where the canal's path is too uncertain for it.")] double? SchneiderDeg,
    [property: Description("Why there is no angle after Schneider; null when there is.")] string? SchneiderWhyNone,
    [property: Description("Angle after Pruett, Clement and Carnes 1997, in degrees; null when the canal is too straight for it.")] double? PruettDeg,
    [property: Description("Radius after Pruett, Clement and Carnes 1997, in mm; null when too straight or without a scale.")] double? PruettRadiusMm,
    [property: Description("Why there is no angle or radius after Pruett; null when there is.")] string? PruettWhyNone,
    [property: Description("Rows [mm from the canal's end, filling width in mm, low, high], every 0.1 mm where filling is seen; empty without a scale."), Columns("mm from the canal's end", "filling width, mm", "low end of its 95 % interval, mm", "high end, mm")] IReadOnlyList<double[]> FillingWidth,
    [property: Description("Width of the canal where it is not filled, rows as in filling_width; null: not measured."), Columns("mm from the canal's end", "canal width, mm", "low end of its 95 % interval, mm", "high end, mm")] IReadOnlyList<double[]>? CanalWidth,
    [property: Description("Difference between the distances from the filling's edges to the two root surfaces, in mm; null where the surfaces were not found.")] double? OffCentreMm,
    [property: Description("Whether off_centre_mm reaches 0.3 mm, which is associated with an unfilled canal; null where it is not known.")] bool? OffCentreIsSign,
    [property: Description("Why there is no off_centre_mm, in a sentence; null when there is one.")] string? OffCentreWhyNone,
    [property: Description("Gaps or sudden narrowings of the filling, rows [from, to, width lost], from the orifice towards the end; empty without a scale."), Columns("begins, mm from the canal's end", "ends, mm from the canal's end", "width lost, mm")] IReadOnlyList<double[]> Voids,
    [property: Description("95 % intervals [low, high] of the single values above, by their names."), Columns("low", "high")] IReadOnlyDictionary<string, double[]> Intervals)
{
    /// <summary>The entry of one branch.</summary>
    /// <param name="branch">The branch, without those below it.</param>
    /// <param name="scale">Scale of the film; null leaves the members in mm null.</param>
    public static MeasuredCanalDocument From(TracedBranch branch, Calibration? scale)
    {
        ArgumentNullException.ThrowIfNull(branch);
        var measures = branch.Measures;
        var intervals = new Dictionary<string, double[]>();
        var millimetres = scale?.MillimetresPerPixel;
        var end = measures.LengthPixels;
        return new MeasuredCanalDocument(
            branch.Name,
            Single("length_mm", measures.Length, Rounded.Millimetres),
            Rounded.Pixels(measures.LengthPixels),
            Single("filled_length_mm", measures.FilledLength, Rounded.Millimetres),
            Rounded.Percent(measures.FilledPercent),
            Single("fill_end_mm", measures.FillingEndToCanalEnd, Rounded.Millimetres),
            measures.WhyNoFillingEnd,
            Single("schneider_deg", measures.SchneiderDegrees, Rounded.Degrees),
            measures.WhyNoSchneider,
            Single("pruett_deg", measures.Pruett.AngleDegrees, Rounded.Degrees),
            Single("pruett_radius_mm", measures.Pruett.RadiusMillimetres, Rounded.Millimetres),
            measures.Pruett.WhyNone,
            millimetres is { } size ? [.. Widths(branch.Filling.Samples, end, size)] : [],
            CanalWidth: null,
            Single("off_centre_mm", measures.OffCentre?.DifferenceMillimetres, Rounded.Millimetres),
            measures.OffCentre?.IsSign,
            measures.WhyNoOffCentre,
            millimetres is { } each ? [.. measures.Voids.Select(gap => Void(gap, end, each))] : [],
            intervals);

        double? Single(string name, Estimate? estimate, Func<double, double> round)
        {
            if (estimate is not { } given)
            {
                return null;
            }

            intervals[name] = Rounded.Ends(given.Interval, round);
            return round(given.Value);
        }
    }

    private static IEnumerable<double[]> Widths(IReadOnlyList<FillingSample> samples, double endPixels, double millimetresPerPixel)
    {
        foreach (var sample in samples)
        {
            if (sample.FillingWidthPixels is { } width)
            {
                yield return
                [
                    Rounded.Millimetres((endPixels - sample.LevelPixels) * millimetresPerPixel),
                    Rounded.Millimetres(width.Value * millimetresPerPixel),
                    Rounded.Millimetres(width.Interval.Low * millimetresPerPixel),
                    Rounded.Millimetres(width.Interval.High * millimetresPerPixel),
                ];
            }
        }
    }

    private static double[] Void(FillingVoid gap, double endPixels, double millimetresPerPixel) =>
    [
        Rounded.Millimetres((endPixels - gap.FromPixels) * millimetresPerPixel),
        Rounded.Millimetres((endPixels - gap.ToPixels) * millimetresPerPixel),
        Rounded.Millimetres(gap.WidthLostPixels * millimetresPerPixel),
    ];
}
