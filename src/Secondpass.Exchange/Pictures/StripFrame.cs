namespace Secondpass.Exchange.Pictures;

/// <summary>The scale of length and width that strips of one tooth share.</summary>
/// <param name="UnitsPerPixel">Units of the strip to one pixel of the film, along the path.</param>
/// <param name="WidthFactor">How much larger widths are drawn than lengths.</param>
internal sealed record StripFrame(double UnitsPerPixel, double WidthFactor)
{
    /// <summary>Where the orifice lies.</summary>
    public const double Left = 12;

    /// <summary>Where the longest branch ends.</summary>
    public const double Right = CanalStrip.Width - 14;

    /// <summary>Units from the middle line to the edge of the band that the branch lies in.</summary>
    public const double HalfBand = 40;

    private const double HalfBandUsed = 38;

    // Steps that read well; the largest one at which the widest place of all branches fits is taken.
    private static readonly double[] WidthFactors = [8, 6, 5, 4, 3, 2.5, 2, 1.5, 1, 0.75, 0.5, 0.25, 0.1];

    /// <summary>The frame in which the longest and the widest of the branches fit.</summary>
    public static StripFrame For(IReadOnlyList<StripContent> contents)
    {
        var spanPixels = contents.Select(SpanPixels).DefaultIfEmpty(1).Max();
        var unitsPerPixel = (Right - Left) / spanPixels;
        var reach = contents.SelectMany(content => content.Shared.Concat(content.Own)).Select(ReachPixels).DefaultIfEmpty(0).Max() * unitsPerPixel;
        var factor = WidthFactors.FirstOrDefault(factor => reach * factor <= HalfBandUsed, HalfBandUsed / Math.Max(reach, HalfBandUsed));
        return new StripFrame(unitsPerPixel, factor);
    }

    private static double SpanPixels(StripContent content) => Math.Max(
        content.Branch.Path.LengthPixels,
        content.Branch.Filling.FilledToPixels?.Interval.High ?? 0);

    private static double ReachPixels(StripSection section) => new[]
    {
        section.IsFilled ? Math.Max(Math.Abs(section.Left), Math.Abs(section.Right)) : 0,
        section.HasResidue ? Math.Max(Math.Abs(section.ResidueLeft), Math.Abs(section.ResidueRight)) : 0,
    }.Max();
}
