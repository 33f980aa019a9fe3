using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using Secondpass.Domain.Anatomy;
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
/// <param name="FillingDensity">Density along the filling.</param>
/// <param name="CanalWidth">Width of the canal where unfilled.</param>
/// <param name="CanalWidthWhyNone">Why there is none.</param>
/// <param name="WallLeft">Wall on the left.</param>
/// <param name="WallRight">Wall on the right.</param>
/// <param name="WallsWhyNone">Why there is neither.</param>
/// <param name="OffCentreMm">Off-centre sign.</param>
/// <param name="OffCentreIsSign">Whether it reaches the published value.</param>
/// <param name="OffCentreWhyNone">Why there is none.</param>
/// <param name="Voids">Gaps in the filling.</param>
/// <param name="VoidPercent">Share of the filled length with a gap.</param>
/// <param name="LargestVoidMm">Longest gap.</param>
/// <param name="FillingSizeMm">Width of the cone at the filling's end.</param>
/// <param name="FillingTaper">Its taper.</param>
/// <param name="NearestSize">Nearest standard size.</param>
/// <param name="FillingSizeWhyNone">Why there is none.</param>
/// <param name="Criteria">Published criteria.</param>
/// <param name="PathHalfWidth">How uncertain the path is.</param>
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
    [property: Description("How dense the filling is along itself, rows [mm from the canal's end, percent of its own median, low, high], where it is seen alone: what it stands out by per width, so that a canal that is flat along the ray looks denser; empty without a scale."), Columns("mm from the canal's end", "density, percent of the filling's median", "low end of its 95 % interval, percent", "high end, percent")] IReadOnlyList<double[]> FillingDensity,
    [property: Description("Width of the canal where it is not filled and the film shows its outline, rows as in filling_width, every 0.25 mm; null: not measured."), Columns("mm from the canal's end", "canal width, mm", "low end of its 95 % interval, mm", "high end, mm")] IReadOnlyList<double[]>? CanalWidth,
    [property: Description("Why there is no canal_width although the scale is known, in a sentence; null otherwise.")] string? CanalWidthWhyNone,
    [property: Description("From the filling's edge to the root's outline on the left of the way from orifice to end, rows [mm from the canal's end, mm, low, high]; levels where it is not seen are left out. A film overstates it where the root is hollow towards the ray."), Columns("mm from the canal's end", "wall, mm", "low end of its 95 % interval, mm", "high end, mm")] IReadOnlyList<double[]> WallLeft,
    [property: Description("The same on the right."), Columns("mm from the canal's end", "wall, mm", "low end of its 95 % interval, mm", "high end, mm")] IReadOnlyList<double[]> WallRight,
    [property: Description("Why there is neither wall_left nor wall_right although the scale is known, in a sentence; null otherwise.")] string? WallsWhyNone,
    [property: Description("Difference between the distances from the filling's edges to the two root surfaces, in mm; null where the surfaces were not found.")] double? OffCentreMm,
    [property: Description("Whether off_centre_mm reaches 0.3 mm, which is associated with an unfilled canal; null where it is not known.")] bool? OffCentreIsSign,
    [property: Description("Why there is no off_centre_mm, in a sentence; null when there is one.")] string? OffCentreWhyNone,
    [property: Description("Places where part of the filling's section is missing, rows [from, to, width that a round filling would have lost, greatest share of the section that is missing in percent, low, high], from the orifice towards the end; empty without a scale. Small voids, and those under another filling, are not seen."), Columns("begins, mm from the canal's end", "ends, mm from the canal's end", "width lost, mm", "missing, percent of the section", "low end of its 95 % interval, percent", "high end, percent")] IReadOnlyList<double[]> Voids,
    [property: Description("Share of the filled length that the voids take, in percent.")] double VoidPercent,
    [property: Description("Length of the longest void, in mm; null without one or without a scale.")] double? LargestVoidMm,
    [property: Description("Width at the filling's end of the straight line through its widths up to 6 mm from there, in mm; null where too little of it is seen alone.")] double? FillingSizeMm,
    [property: Description("The taper of that line, in mm per mm.")] double? FillingTaper,
    [property: Description("The size of ISO 3630-1 whose tip is nearest to filling_size_mm.")] int? NearestSize,
    [property: Description("Why there is no filling_size_mm although filling is seen and the scale is known, in a sentence; null otherwise.")] string? FillingSizeWhyNone,
    [property: Description("Published criteria of a filling that a film can speak to, one by one.")] IReadOnlyList<FillingCriterionDocument> Criteria,
    [property: Description("Rows [mm from the canal's end, mm], about every 0.5 mm: half of the 95 % interval of where the canal's middle lies across the path; empty without a scale."), Columns("mm from the canal's end", "half width, mm")] IReadOnlyList<double[]> PathHalfWidth,
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
            scale is not null ? [.. Widths(branch.Filling.Samples, end, scale)] : [],
            millimetres is { } ofDensity ? [.. branch.Filling.Densities().Select(at => DensityRow(at.LevelPixels, at.Percent, end, ofDensity))] : [],
            scale is not null && branch.CanalWidths.Count > 0 ? [.. branch.CanalWidths.Select(at => Row(at.LevelPixels, scale.InMillimetres(at.WidthPixels), end, scale))] : null,
            branch.WhyNoCanalWidth,
            scale is not null ? [.. branch.Walls.Where(wall => wall.LeftPixels is not null).Select(wall => Row(wall.LevelPixels, WallSample.InMillimetres(wall.LeftPixels!.Value, scale), end, scale))] : [],
            scale is not null ? [.. branch.Walls.Where(wall => wall.RightPixels is not null).Select(wall => Row(wall.LevelPixels, WallSample.InMillimetres(wall.RightPixels!.Value, scale), end, scale))] : [],
            branch.WhyNoWalls,
            Single("off_centre_mm", measures.OffCentre?.DifferenceMillimetres, Rounded.Millimetres),
            measures.OffCentre?.IsSign,
            measures.WhyNoOffCentre,
            millimetres is { } each ? [.. measures.Voids.Select(gap => Void(gap, end, each))] : [],
            Rounded.Percent(measures.VoidPercent),
            Single("largest_void_mm", scale is not null && measures.LongestVoid is { } longest ? longest.Length(scale) : null, Rounded.Millimetres),
            Single("filling_size_mm", measures.Cone?.EndWidthMillimetres, Rounded.Millimetres),
            Single("filling_taper", measures.Cone?.TaperMillimetresPerMillimetre, Rounded.Millimetres),
            measures.Cone?.NearestSize,
            measures.WhyNoCone,
            [.. FillingQuality.Of(measures).Select(criterion => new FillingCriterionDocument(criterion.Name, EnumWords.Of(criterion.Meets), criterion.Found, criterion.Source))],
            millimetres is { } perPixel ? [.. HalfWidths(branch, perPixel)] : [],
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

    private static IEnumerable<double[]> Widths(IReadOnlyList<FillingSample> samples, double endPixels, Calibration scale)
    {
        foreach (var sample in samples)
        {
            if (sample.FillingWidthPixels is { } width)
            {
                yield return Row(sample.LevelPixels, scale.InMillimetres(width), endPixels, scale);
            }
        }
    }

    private static double[] Row(double levelPixels, Estimate millimetres, double endPixels, Calibration scale) =>
    [
        Rounded.Millimetres((endPixels - levelPixels) * scale.MillimetresPerPixel),
        Rounded.Millimetres(millimetres.Value),
        .. Rounded.Ends(millimetres.Interval, Rounded.Millimetres),
    ];

    private static double[] DensityRow(double levelPixels, Estimate percent, double endPixels, double millimetresPerPixel) =>
    [
        Rounded.Millimetres((endPixels - levelPixels) * millimetresPerPixel),
        Rounded.Percent(percent.Value),
        .. Rounded.Ends(percent.Interval, Rounded.Percent),
    ];

    private static IEnumerable<double[]> HalfWidths(TracedBranch branch, double millimetresPerPixel)
    {
        const double StepMillimetres = 0.5;
        var next = 0.0;
        for (var i = 0; i < branch.PathDeviationsPixels.Count; i++)
        {
            var level = branch.Path.LevelsPixels[i];
            if (level >= next)
            {
                yield return
                [
                    Rounded.Millimetres((branch.Path.LengthPixels - level) * millimetresPerPixel),
                    Rounded.Millimetres(1.96 * branch.PathDeviationsPixels[i] * millimetresPerPixel),
                ];
                next = level + (StepMillimetres / millimetresPerPixel);
            }
        }
    }

    private static double[] Void(FillingVoid gap, double endPixels, double millimetresPerPixel) =>
    [
        Rounded.Millimetres((endPixels - gap.FromPixels) * millimetresPerPixel),
        Rounded.Millimetres((endPixels - gap.ToPixels) * millimetresPerPixel),
        Rounded.Millimetres(gap.WidthLostPixels * millimetresPerPixel),
        Rounded.Percent(gap.MissingPercent.Value),
        .. Rounded.Ends(gap.MissingPercent.Interval, Rounded.Percent),
    ];
}

/// <summary>A published criterion of a filling.</summary>
/// <param name="Name">The criterion.</param>
/// <param name="Meets">Whether it is met.</param>
/// <param name="Found">What was found.</param>
/// <param name="Source">Its source.</param>
[Description("A published criterion of a filling, and whether it is met.")]
public sealed record FillingCriterionDocument(
    [property: Description("The criterion in words.")] string Name,
    [property: Description("Whether it is met; cant_tell where the interval holds the limit or there is no measure."), Words(typeof(Meets))] string Meets,
    [property: Description("What was found, in words.")] string Found,
    [property: Description("Where the criterion is published.")] string Source);
