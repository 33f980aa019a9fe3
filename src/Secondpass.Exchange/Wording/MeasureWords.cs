using System.Globalization;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;

namespace Secondpass.Exchange.Wording;

/// <summary>Says in words what was measured along a branch.</summary>
public static class MeasureWords
{
    /// <summary>Length and filling of a branch, in one line without its name.</summary>
    /// <param name="branch">The branch.</param>
    /// <param name="withIntervals">Whether the 95 % intervals stand behind the figures.</param>
    /// <returns>Such as "14.2 mm long; filling ends 1.3 mm short of the canal end"; with intervals "14.2 mm (13.9–14.5) long; filling ends 1.3 mm (0.9–1.7) short of the canal end"; without a scale "filled over 84 % of its length; no scale"; where another filling hides the end "14.2 mm long; where its filling ends can't be told".</returns>
    public static string Line(TracedBranch branch, bool withIntervals = false)
    {
        ArgumentNullException.ThrowIfNull(branch);
        var measures = branch.Measures;
        var filling = branch.Filling.FilledToPixels is null
            ? "no filling seen"
            : measures.FillingEndToCanalEnd is { } end
                ? "filling ends " + (withIntervals ? FillingEndWithin(end) : FillingEnd(new Millimetres(end.Value)))
                : measures.WhyNoFillingEnd is not null
                    ? "where its filling ends can't be told"
                    : $"filled over {ResidueWords.Percent(measures.FilledPercent)} of its length";
        return measures.Length is { } length
            ? $"{(withIntervals ? EstimateWords.Millimetres(length, 1) : Length(new Millimetres(length.Value)))} long; {filling}"
            : filling + "; no scale";
    }

    /// <summary>Where the filling ends, seen from the canal's end.</summary>
    /// <param name="end">Filling end to canal end: short is positive, beyond is negative.</param>
    /// <returns>Such as "1.3 mm short of the canal end", "at the canal end", "0.8 mm beyond the canal end".</returns>
    public static string FillingEnd(Millimetres end)
    {
        var rounded = Math.Round(end.Value, 1, MidpointRounding.AwayFromZero);
        return rounded switch
        {
            > 0 => Length(new Millimetres(rounded)) + " short of the canal end",
            < 0 => Length(new Millimetres(-rounded)) + " beyond the canal end",
            _ => "at the canal end",
        };
    }

    /// <summary>Where the filling ends, with how sure that is.</summary>
    /// <param name="end">Filling end to canal end in mm: short is positive, beyond is negative.</param>
    /// <returns>Such as "1.3 mm (0.9–1.7) short of the canal end", "0.1 mm short of the canal end (0.3 mm beyond to 0.5 mm short)".</returns>
    public static string FillingEndWithin(Estimate end)
    {
        var words = FillingEnd(new Millimetres(end.Value));
        var (low, high) = (Tenth(end.Interval.Low), Tenth(end.Interval.High));
        return end.Interval is { Low: <= 0, High: >= 0 } || !words.Contains(" mm ", StringComparison.Ordinal)
            ? $"{words} ({low} mm {(end.Interval.Low < 0 ? "beyond" : "short")} to {high} mm {(end.Interval.High < 0 ? "beyond" : "short")})"
            : words.Replace(" mm ", end.Value > 0 ? $" mm ({low}–{high}) " : $" mm ({high}–{low}) ", StringComparison.Ordinal);

        static string Tenth(double millimetres) => EstimateWords.Number(Math.Abs(millimetres), 1);
    }

    /// <summary>Which size and taper a filling's widths near its end fit.</summary>
    /// <param name="cone">The cone.</param>
    /// <returns>Such as "Near its end the filling is as wide as size 32 (26–38), taper .04 (.03–.05); nearest standard size 30."</returns>
    public static string Cone(FillingCone cone)
    {
        ArgumentNullException.ThrowIfNull(cone);
        var (width, taper) = (cone.EndWidthMillimetres, cone.TaperMillimetresPerMillimetre);
        return string.Create(
            CultureInfo.InvariantCulture,
            $"Near its end the filling is as wide as size {100 * width.Value:0} ({100 * width.Interval.Low:0}–{100 * width.Interval.High:0}), taper {Taper(taper.Value)} ({Taper(taper.Interval.Low)}–{Taper(taper.Interval.High)}); nearest standard size {cone.NearestSize}.");

        static string Taper(double value) => (value < 0 ? "−" : string.Empty) + Math.Abs(value).ToString("0.00", CultureInfo.InvariantCulture)[1..];
    }

    /// <summary>Where part of a filling is missing, how much and over which length.</summary>
    /// <param name="gap">The void.</param>
    /// <param name="lengthPixels">Length of the canal's path, in pixels.</param>
    /// <param name="scale">The film's scale; null when it has none.</param>
    /// <returns>Such as "Part of the filling seems to be missing 3.2 mm from the canal's end: 25 % of its section (11–39 %), over 0.6 mm (0.2–1.1 mm)."; without a scale without the lengths.</returns>
    public static string Void(FillingVoid gap, double lengthPixels, Calibration? scale)
    {
        var missing = ResidueWords.Share(gap.MissingPercent);
        if (scale is null)
        {
            return $"Part of the filling seems to be missing at {ResidueWords.Percent(50 * (gap.FromPixels + gap.ToPixels) / lengthPixels)} of the canal's length: {missing} of its section.";
        }

        var fromEnd = new Millimetres((lengthPixels - ((gap.FromPixels + gap.ToPixels) / 2)) * scale.MillimetresPerPixel);
        var length = gap.Length(scale);
        return string.Create(
            CultureInfo.InvariantCulture,
            $"Part of the filling seems to be missing {Length(fromEnd)} from the canal's end: {missing} of its section, over {Length(new Millimetres(length.Value))} ({length.Interval.Low:0.0}–{Length(new Millimetres(length.Interval.High))}).");
    }

    /// <summary>A length to a tenth of a millimetre, such as "14.2 mm".</summary>
    /// <param name="length">The length.</param>
    public static string Length(Millimetres length) =>
        Math.Round(length.Value, 1, MidpointRounding.AwayFromZero).ToString("0.0", CultureInfo.InvariantCulture) + " mm";
}
