using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;
using Secondpass.Radiographs.Pixels;

namespace Secondpass.Radiographs.Trace;

/// <summary>Reads how wide a canal is where it holds no filling: the dark band between dentine is fitted as a filling is, as a rod that is less radiopaque.</summary>
/// <remarks>
/// The band is faint, so grey is averaged over half a millimetre along the canal. Width and darkness of a narrow band can't be told apart: a level
/// counts only where the fit is as dark as an empty canal can be, beside the density of the film's fillings. Limits chosen on simulated films of seeds 3000 to 3099.
/// </remarks>
internal static class EmptyWidth
{
    /// <summary>Why there is no width although a part is unfilled.</summary>
    public const string NotClear = "Where the canal holds no filling its outline is not clear on the film, so how wide it is there can't be told.";

    /// <summary>Why there is no width where no part is unfilled.</summary>
    public const string AllFilled = "No part of the canal is seen without filling over more than half a millimetre.";

    /// <summary>Why there is no width on a film without any filling.</summary>
    public const string NothingBeside = "The film shows no filling beside whose density an empty canal can be told.";

    private const double LevelStepMillimetres = 0.25;
    private const int AlongPixels = 14;
    private const int AcrossPixels = 61;
    private const double SideReachPixels = 10;
    private const double GreatestRadiusPixels = 12;
    private const double AwayFromFillingPixels = 14;
    private const double BeforeEndPixels = 8;
    private const double MostAsidePixels = 3;

    /// <summary>What the band must stand out by, in deviations of what the fit leaves unexplained.</summary>
    private const double LeastContrast = 4;

    /// <summary>How dark an empty canal is per pixel of width, as a share of how light a filling is: nine of ten clear bands lie from 0.10 to 0.29.</summary>
    private static readonly Interval Darkness = new(0.10, 0.26);

    /// <summary>Half of the 95 % interval of a width, in mm: measured on the same films.</summary>
    private const double HalfMillimetres = 0.15;

    private static readonly double[] StartRadiiPixels = [2, 4, 6];

    /// <summary>How light a filling is per pixel of its width: the median along it; null without one.</summary>
    /// <param name="filling">The filling.</param>
    public static double? Density(FillingProfile filling)
    {
        double[] shares = [.. filling.Samples.Select(sample => sample.ContrastPerPixel).OfType<double>()];
        return shares.Length == 0 ? null : Ranks.Median(shares);
    }

    /// <summary>The widths along a branch, or why there are none.</summary>
    /// <param name="image">Grey values; filling is brighter than dentine.</param>
    /// <param name="branch">The branch.</param>
    /// <param name="blurPixels">Blur of the film.</param>
    /// <param name="density">As <see cref="Density"/> of the branch's own filling, or of another of the film; null for none.</param>
    /// <param name="all">All branches of the film.</param>
    /// <param name="millimetresPerPixel">The film's scale.</param>
    public static (IReadOnlyList<CanalWidthSample> Widths, string? WhyNone) Read(
        GreyImage image, TracedBranch branch, double blurPixels, double? density, IReadOnlyList<TracedBranch> all, double millimetresPerPixel)
    {
        var unfilled = Levels(branch, millimetresPerPixel).ToArray();
        if (unfilled.Length == 0)
        {
            return ([], AllFilled);
        }

        if (density is not { } usual)
        {
            return ([], NothingBeside);
        }

        var widths = new List<CanalWidthSample>();
        var profile = new double[AcrossPixels];
        foreach (var level in unfilled.Where(level => !FillingOverlap.IsOver(branch, level, all)))
        {
            CrossProfile.Sample(image, branch.Path.At(level), branch.Path.DirectionAt(level, 8), AlongPixels, profile);
            for (var i = 0; i < profile.Length; i++)
            {
                profile[i] = -profile[i];
            }

            var band = StartRadiiPixels.Select(radius => RodFit.Find(profile, blurPixels, 0, radius, SideReachPixels, GreatestRadiusPixels)).MinBy(rod => rod.ResidualDeviation);
            var contrast = band.Contrast(blurPixels);
            if (Math.Abs(band.CentrePixels) <= MostAsidePixels
                && contrast > LeastContrast * band.ResidualDeviation
                && Darkness.Contains(contrast / (2 * band.RadiusPixels) / usual))
            {
                widths.Add(new CanalWidthSample(level, Estimate.Within(2 * band.RadiusPixels, HalfMillimetres / millimetresPerPixel)));
            }
        }

        return widths.Count == 0 ? ([], NotClear) : (widths, null);
    }

    // Away from any filling, whose edge is a far stronger step.
    private static IEnumerable<double> Levels(TracedBranch branch, double millimetresPerPixel)
    {
        var filled = branch.Filling.Samples.Where(sample => sample.FillingWidthPixels is not null).Select(sample => sample.LevelPixels).ToArray();
        var (first, last) = filled.Length == 0 ? (double.PositiveInfinity, double.NegativeInfinity) : (filled[0], Math.Max(filled[^1], branch.Filling.FilledToPixels?.Value ?? filled[^1]));
        for (var level = branch.OwnFromPixels + AwayFromFillingPixels; level < branch.Path.LengthPixels - BeforeEndPixels; level += LevelStepMillimetres / millimetresPerPixel)
        {
            if (level > last + AwayFromFillingPixels || level < first - AwayFromFillingPixels)
            {
                yield return level;
            }
        }
    }
}
