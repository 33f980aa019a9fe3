using System.ComponentModel;

namespace Secondpass.Job.Documents;

/// <summary>The answer of <c>measure</c>.</summary>
/// <param name="Schema">Always 1.</param>
/// <param name="Canals">One entry per branch, parents before children.</param>
/// <param name="Notices">What the dentist should know.</param>
public sealed record MeasureDocument(
    [property: Description("Always 1.")] int Schema,
    [property: Description("One entry per branch, parents before children.")] IReadOnlyList<MeasuredCanalDocument> Canals,
    [property: Description("What the dentist should know about this film, in sentences.")] IReadOnlyList<string> Notices);

/// <summary>One branch measured.</summary>
/// <param name="Name">Its name.</param>
/// <param name="LengthMm">Length along the path.</param>
/// <param name="LengthPx">The same in pixels.</param>
/// <param name="FilledLengthMm">Length of path along which filling is seen.</param>
/// <param name="FilledPercent">The same as a share of the length.</param>
/// <param name="FillEndMm">Filling end to canal end.</param>
/// <param name="SchneiderDeg">Angle after Schneider.</param>
/// <param name="PruettDeg">Angle after Pruett.</param>
/// <param name="PruettRadiusMm">Radius after Pruett.</param>
/// <param name="PruettWhyNone">Why there is none.</param>
/// <param name="FillingWidth">Width of the filling.</param>
/// <param name="CanalWidth">Width of the canal where unfilled.</param>
/// <param name="OffCentreMm">Off-centre sign.</param>
/// <param name="OffCentreIsSign">Whether it reaches the published value.</param>
/// <param name="Voids">Gaps in the filling.</param>
/// <param name="Intervals">95 % intervals of the single values.</param>
public sealed record MeasuredCanalDocument(
    [property: Description("The branch's name.")] string Name,
    [property: Description("Length along the path from orifice to end, in mm; null without a scale.")] double? LengthMm,
    [property: Description("The same in pixels.")] double LengthPx,
    [property: Description("Length of path along which filling is seen, in mm; null without a scale.")] double? FilledLengthMm,
    [property: Description("The same in percent of the length.")] double FilledPercent,
    [property: Description("From the end of the filling to the end of the canal, in mm: short is positive, beyond is negative; null without a scale or a filling.")] double? FillEndMm,
    [property: Description("Angle after Schneider 1971, in degrees, as projected.")] double SchneiderDeg,
    [property: Description("Angle after Pruett, Clement and Carnes 1997, in degrees; null when the canal is too straight for it.")] double? PruettDeg,
    [property: Description("Radius after Pruett, Clement and Carnes 1997, in mm; null when too straight or without a scale.")] double? PruettRadiusMm,
    [property: Description("Why there is no angle or radius after Pruett; null when there is.")] string? PruettWhyNone,
    [property: Description("Rows [mm from the canal's end, filling width in mm, low, high], every 0.1 mm where filling is seen; empty without a scale.")] IReadOnlyList<double[]> FillingWidth,
    [property: Description("Width of the canal where it is not filled, rows as in filling_width; null: not measured.")] IReadOnlyList<double[]>? CanalWidth,
    [property: Description("Difference between the distances from the filling's edges to the two root surfaces, in mm; null where the surfaces were not found.")] double? OffCentreMm,
    [property: Description("Whether off_centre_mm reaches 0.3 mm, which is associated with an unfilled canal; null where it is not known.")] bool? OffCentreIsSign,
    [property: Description("Gaps or sudden narrowings of the filling, rows [from mm from end, to mm from end, width lost in mm]; empty without a scale.")] IReadOnlyList<double[]> Voids,
    [property: Description("95 % intervals [low, high] of the single values above, by their names.")] IReadOnlyDictionary<string, double[]> Intervals);
