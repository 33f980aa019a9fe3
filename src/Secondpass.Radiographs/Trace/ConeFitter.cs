using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;
using Secondpass.Radiographs.Pixels;

namespace Secondpass.Radiographs.Trace;

/// <summary>Fits a straight line to a filling's widths against the distance from its end.</summary>
/// <remarks>
/// The line through the middle of all slopes between two levels (Theil, Proc Kon Ned Akad Wetensch 1950;53:386–392; Sen, J Am Stat
/// Assoc 1968;63:1379–1389), so that a void or a bulge doesn't draw it.
/// </remarks>
internal static class ConeFitter
{
    private const string TooLittle = "Less than 2 mm of the filling near its end is seen alone, so which size and taper it has can't be told.";
    private const string NoEnd = "Where the filling ends can't be told, so which size and taper it has can't be told either.";

    /// <summary>The end itself is rounded off.</summary>
    private const double RoundedMillimetres = 0.35;

    /// <summary>Farther from the end fillings are wider than the last instrument made them.</summary>
    private const double ReachMillimetres = 6;

    private const double LeastMillimetres = 2;

    /// <summary>
    /// How much wider fillings are read than they are, in pixels. Scatter and a film's grey curve let grey grow ever less with what lies in
    /// the ray: a rod's shadow is flatter on top, as a wider rod's is. On simulated films of seeds 3000 to 3011 it was 0.1 where grey follows
    /// the thickness, 0.5 with the usual scatter and curve, 0.9 where it follows the grains of a film, 1.3 where it is the signal itself
    /// (each beyond the 0.1 that the true edges, told in steps, fall short by).
    /// </summary>
    private const double ReadWiderPixels = 0.5;

    /// <summary>Half interval that widths share along a filling, in mm: the film's blur and grey curve; measured on simulated films of seeds 3000 to 3119, where 95 % of sizes lie inside.</summary>
    private const double SharedHalfMillimetres = 0.06;

    /// <summary>Half interval of the taper beyond the scatter of widths, in mm per mm; measured on the same films.</summary>
    private const double TaperHalf = 0.02;

    /// <summary>Fits a branch's filling.</summary>
    /// <param name="filling">Its widths.</param>
    /// <param name="measures">Its measures: whether its end is known, and its voids.</param>
    /// <param name="scale">Millimetres per pixel.</param>
    public static (FillingCone? Cone, string? WhyNone) Fit(FillingProfile filling, BranchMeasures measures, double scale)
    {
        if (filling.FilledToPixels is not { } end)
        {
            return (null, null);
        }

        if (measures.WhyNoFillingEnd is not null)
        {
            return (null, NoEnd);
        }

        var rows = filling.Samples
            .Where(sample => sample is { IsOverlapped: false, FillingWidthPixels: not null } && !measures.Voids.Any(gap => sample.LevelPixels >= gap.FromPixels && sample.LevelPixels <= gap.ToPixels))
            .Select(sample => (FromEnd: (end.Value - sample.LevelPixels) * scale, Width: sample.FillingWidthPixels!.Value.Value * scale))
            .Where(row => row.FromEnd is >= RoundedMillimetres and <= ReachMillimetres)
            .ToArray();
        var spacing = (filling.Samples[1].LevelPixels - filling.Samples[0].LevelPixels) * scale;
        if (rows.Length * spacing < LeastMillimetres)
        {
            return (null, TooLittle);
        }

        var slopes = new List<double>();
        for (var i = 0; i < rows.Length; i++)
        {
            for (var k = i + 1; k < rows.Length; k++)
            {
                slopes.Add((rows[k].Width - rows[i].Width) / (rows[k].FromEnd - rows[i].FromEnd));
            }
        }

        var taper = Ranks.Median([.. slopes]);
        var read = Ranks.Median([.. rows.Select(row => row.Width - (taper * row.FromEnd))]);
        var width = read - (ReadWiderPixels * scale);
        var scatter = Ranks.RobustDeviation([.. rows.Select(row => row.Width - read - (taper * row.FromEnd))]);
        var over = rows.Length * spacing;

        // Neighbouring widths err together over about half a millimetre.
        var independent = Math.Max(3, over / 0.5);
        var ofTaper = double.Hypot(1.96 * scatter * Math.Sqrt(12 / independent) / over, TaperHalf);
        var ofWidth = double.Hypot(1.96 * scatter / Math.Sqrt(independent), SharedHalfMillimetres);
        return width <= 0
            ? (null, TooLittle)
            : (new FillingCone(new Estimate(width, new Interval(Math.Max(0, width - ofWidth), width + ofWidth)), Estimate.Within(taper, ofTaper), over), null);
    }
}
