using System.Globalization;
using System.Text;
using Secondpass.Domain.Plans;

namespace Secondpass.App.Pages.Plan;

/// <summary>The canal of one step straightened, a branch below its split, the end right: its width before, what is opened beyond it, and where the instrument stops.</summary>
/// <param name="Before">Outline of the canal before, as a path.</param>
/// <param name="After">Outline after.</param>
/// <param name="Instrument">Middle line of the instrument to its stop.</param>
/// <param name="EndX">Where the canal ends.</param>
/// <param name="Ticks">Places of whole millimetres from the end, with their number.</param>
/// <param name="InWords">The same in words.</param>
internal sealed record PlanStrip(string Before, string After, string Instrument, double EndX, IReadOnlyList<(double X, int Mm)> Ticks, string InWords)
{
    /// <summary>Width of the picture in its own units.</summary>
    public const double Width = 560;

    /// <summary>Height of the picture.</summary>
    public const double Height = 84;

    private const double Left = 8;
    private const double Right = Width - 16;
    private const double Middle = (Height - 16) / 2;

    // The part of a branch below its split is drawn to the scale of a short canal, not stretched over the whole width.
    private const double LeastSpanMillimetres = 8;

    // Widths are drawn four times as large as lengths, or a canal would be a line.
    private const double WidthScale = 4;

    /// <summary>The strip of a step; null where no width was measured.</summary>
    public static PlanStrip? Of(RemovalStep step)
    {
        if (step.Cuts.Count < 2 || step.StopFromEnd is not { } stop)
        {
            return null;
        }

        var highest = Math.Max(step.Cuts[^1].FromEnd.Value, 1);
        var perMillimetre = (Right - Left) / Math.Max(highest, LeastSpanMillimetres);
        var perWidth = Math.Min(perMillimetre * WidthScale, 2 * (Middle - 4) / Math.Max(0.4, step.Cuts.Max(cut => cut.After.Value)));
        double X(double fromEnd) => Right - (Math.Max(0, fromEnd) * perMillimetre);
        var widest = step.Cuts.Max(cut => cut.After.Value - cut.Before.Value) / 2;
        return new PlanStrip(
            Outline(step.Cuts, cut => cut.Before.Value, X, perWidth),
            Outline(step.Cuts, cut => cut.After.Value, X, perWidth),
            string.Create(CultureInfo.InvariantCulture, $"M{X(highest):0.##} {Middle:0.##} H{X(stop.Value):0.##} m0 -7 v14"),
            X(0),
            [.. Enumerable.Range(0, (int)highest + 1).Where(mm => mm % 2 == 0).Select(mm => (X(mm), mm))],
            string.Create(CultureInfo.InvariantCulture, $"The last {highest:0.0} mm of the canal: the instrument stops {stop.Value:0.0} mm short of the end and cuts {widest:0.00} mm of dentine a side at most. Millimetres from the end. Widths are drawn larger than lengths."));
    }

    private static string Outline(IReadOnlyList<PlannedCut> cuts, Func<PlannedCut, double> width, Func<double, double> x, double perWidth)
    {
        var path = new StringBuilder();
        foreach (var (cut, side) in cuts.Select(cut => (cut, -1)).Concat(cuts.Reverse().Select(cut => (cut, 1))))
        {
            path.Append(CultureInfo.InvariantCulture, $"{(path.Length == 0 ? 'M' : 'L')}{x(cut.FromEnd.Value):0.#} {Middle + (side * width(cut) * perWidth / 2):0.##} ");
        }

        return path.Append('Z').ToString();
    }
}
