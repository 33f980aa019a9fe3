using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;
using Secondpass.Radiographs.Pixels;

namespace Secondpass.Radiographs.Trace;

/// <summary>Tells the ends of two fillings apart that lie over each other.</summary>
/// <remarks>
/// The shadow of both ends where the longer one does. Where the shorter one ends, the filling that the ray meets drops by about
/// half within a few tenths of a millimetre, while its taper alone lets it drop by a tenth. Which of the two goes on is told by the
/// marks: what goes on runs towards the mark of its own canal's end. Limits chosen on simulated films of seeds 3000 to 3119.
/// </remarks>
internal static class HiddenEnd
{
    private const string CannotTell = "Another filling lies over the end of this one on the film, and which of the two goes on can't be told; a film from another angle can show it.";
    private const string Several = "More than one filling lies over the end of this one on the film, so where it ends can't be told; a film from another angle can show it.";

    /// <summary>How far before the end that was found a filling over this one may hide the true end.</summary>
    private const double LookBackMillimetres = 3.3;

    /// <summary>Length of path along which the other filling must lie over this one: below it they only cross.</summary>
    private const double LeastOverlapMillimetres = 0.3;

    /// <summary>A filling that nothing lies over along so much of its end shows it itself.</summary>
    private const double AloneMillimetres = 0.5;

    /// <summary>Length over which the filling before and after a step is taken.</summary>
    private const double WindowMillimetres = 0.5;

    /// <summary>A step nearer to the end than this can't be told from the end itself.</summary>
    private const double NearestStepMillimetres = 0.55;

    /// <summary>How much more filling there is before a step than after it, at least.</summary>
    private const double LeastStep = 1.6;

    /// <summary>Below this ratio there is no step; between the two it can't be told.</summary>
    private const double NoStep = 1.45;

    /// <summary>How surely the marks must say which filling goes on.</summary>
    private const double LeastChance = 0.95;

    /// <summary>Standard deviation of a mark across the canal, with that of a way carried on to the canal's end, in pixels.</summary>
    private const double MarkDeviationPixels = 2.3;

    /// <summary>Half of the 95 % interval of where a step lies.</summary>
    private const double StepHalfMillimetres = 0.45;

    /// <summary>The level at which a branch's filling ends.</summary>
    /// <param name="branch">The branch, its samples told as lying under another filling or not.</param>
    /// <param name="found">Where the shadow ends along its path.</param>
    /// <param name="all">All branches of the film.</param>
    /// <param name="scale">Millimetres per pixel.</param>
    /// <returns>The level in pixels; or, in a sentence, why there is none.</returns>
    public static (Estimate? End, string? WhyNone) Of(TracedBranch branch, Estimate found, IReadOnlyList<TracedBranch> all, double scale)
    {
        var samples = branch.Filling.Samples;
        var spacing = samples[1].LevelPixels - samples[0].LevelPixels;
        var near = samples.Where(sample => sample.IsOverlapped && sample.LevelPixels >= found.Value - (LookBackMillimetres / scale)).Select(sample => sample.LevelPixels).ToArray();
        if (near.Length * spacing * scale < LeastOverlapMillimetres
            || samples.Count(sample => !sample.IsOverlapped && sample.FillingWidthPixels is not null && sample.LevelPixels > near[^1]) * spacing * scale > AloneMillimetres)
        {
            return (found, null);
        }

        var others = all.Where(other => near.Count(level => FillingOverlap.IsOver(branch, level, [other])) * spacing * scale >= LeastOverlapMillimetres).ToArray();
        if (others.Length != 1)
        {
            return (null, Several);
        }

        var (ratio, step) = GreatestStep(samples, found.Value, spacing, scale);
        if (ratio < NoStep)
        {
            return (Wider(found, NearestStepMillimetres / scale), null);
        }

        if (ratio < LeastStep || !samples.Any(sample => sample.IsOverlapped && Math.Abs(sample.LevelPixels - step) < 2 * spacing))
        {
            return (null, CannotTell);
        }

        return ChanceThatOwnGoesOn(branch, others[0], step, found.Value) switch
        {
            > LeastChance => (found, null),
            < 1 - LeastChance => (Estimate.Within(step, StepHalfMillimetres / scale), null),
            _ => (null, CannotTell),
        };
    }

    private static Estimate Wider(Estimate found, double backPixels) =>
        new(found.Value, new Interval(Math.Min(found.Interval.Low, found.Value - backPixels), found.Interval.High));

    /// <summary>The level at which the filling that rays meet drops most, and how many times more there is before it than after it.</summary>
    private static (double Ratio, double Level) GreatestStep(IReadOnlyList<FillingSample> samples, double end, double spacing, double scale)
    {
        var window = Math.Max(2, (int)Math.Round(WindowMillimetres / scale / spacing, MidpointRounding.AwayFromZero));
        var last = Math.Min(samples.Count - 1, (int)(end / spacing) - 1);
        var from = Math.Max(window, (int)((end - (LookBackMillimetres / scale)) / spacing));
        var to = (int)((end - (NearestStepMillimetres / scale)) / spacing);
        var best = (Ratio: 0.0, Level: 0.0);
        for (var i = from; i <= to; i++)
        {
            var ratio = Mass(i - window, i - 1) / Mass(i + 1, Math.Min(i + window, last));
            if (ratio > best.Ratio)
            {
                best = (ratio, samples[i].LevelPixels);
            }
        }

        return best.Ratio < LeastStep ? best : (best.Ratio, Halfway(best.Level));

        // The greatest ratio is flat around the step: it lies where the filling has dropped half of the way.
        double Halfway(double level)
        {
            var middle = (int)Math.Round(level / spacing, MidpointRounding.AwayFromZero);
            var half = Math.Sqrt(Mass(middle - window, middle - 1) * Mass(middle + 1, Math.Min(middle + window, last)));
            for (var i = middle + window; i >= middle - window; i--)
            {
                if (Mass(i - 1, i + 1) > half)
                {
                    return samples[Math.Min(i, samples.Count - 1)].LevelPixels + (0.5 * spacing);
                }
            }

            return level;
        }

        // What a rod's axis stands out by times its width: in proportion to its section.
        double Mass(int first, int beyond)
        {
            var masses = Enumerable.Range(first, Math.Max(0, beyond - first + 1))
                .Where(i => i >= 0 && i < samples.Count && samples[i].FillingWidthPixels is not null)
                .Select(i => samples[i].FillingWidthPixels!.Value.Value * samples[i].ContrastGreyLevels)
                .ToArray();
            return masses.Length == 0 ? double.NaN : Ranks.Median(masses);
        }
    }

    /// <summary>How likely what goes on after the step is this branch's filling: it runs towards the mark of its own canal's end.</summary>
    private static double ChanceThatOwnGoesOn(TracedBranch branch, TracedBranch other, double step, double end)
    {
        var middle = (step + end) / 2;
        var along = branch.Path.DirectionAt(middle, (end - step) / 2);
        var left = new PixelPoint(along.Y, -along.X);
        var from = branch.Path.At(middle);
        double Aside(TracedBranch canal)
        {
            var there = (canal.MarkedEnd ?? canal.Path.Points[^1]) - from;
            return (there.X * left.X) + (there.Y * left.Y);
        }

        var (own, others) = (Aside(branch), Aside(other));
        var odds = ((others * others) - (own * own)) / (2 * MarkDeviationPixels * MarkDeviationPixels);
        return 1 / (1 + Math.Exp(-Math.Clamp(odds, -50, 50)));
    }
}
