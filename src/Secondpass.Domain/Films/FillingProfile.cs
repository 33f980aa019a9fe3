using Secondpass.Domain.Quantities;

namespace Secondpass.Domain.Films;

/// <summary>What was seen across a canal at one level of its path.</summary>
/// <param name="LevelPixels">Pixels along the path from the orifice.</param>
/// <param name="FillingWidthPixels">Width of the filling across the path with its interval, in pixels; null where no filling is seen.</param>
/// <param name="CentreOffsetPixels">How far the middle of the filling lies from the path, in pixels; positive to the left of the way from orifice to end as the film is shown.</param>
/// <param name="ContrastGreyLevels">How much the filling stands out from the root beside it, in grey levels of the film; positive when more radiopaque.</param>
public readonly record struct FillingSample(
    double LevelPixels,
    Estimate? FillingWidthPixels,
    double CentreOffsetPixels,
    double ContrastGreyLevels)
{
    /// <summary>Whether another traced filling lies over this one here: the width is then a share of that of both, with a wide interval.</summary>
    public bool IsOverlapped { get; init; }

    /// <summary>How much the filling stands out per pixel of its width, in grey levels; null where none is seen alone.</summary>
    public double? ContrastPerPixel => FillingWidthPixels is { Value: > 0 } width && !IsOverlapped ? ContrastGreyLevels / width.Value : null;
}

/// <summary>Width of the old filling against level along one branch, as seen on one film.</summary>
/// <remarks>Not the width of the canal: an unfilled part of a canal has no filling width. Widths are those of the projection.</remarks>
/// <param name="Samples">From orifice to end, equally spaced (0.1 mm apart, or 3 pixels where the film has no scale).</param>
/// <param name="FilledFromPixels">Level at which filling is first seen; null when none is.</param>
/// <param name="FilledToPixels">Level at which the filling ends towards the apex, with interval; null when none is seen.</param>
public sealed record FillingProfile(
    IReadOnlyList<FillingSample> Samples,
    double? FilledFromPixels,
    Estimate? FilledToPixels)
{
    /// <summary>What of the orifice and of the filling's end is left out of <see cref="Densities"/>, in pixels: there the chamber and the blurred tip are read as well.</summary>
    private const double LeftOutPixels = 20;

    /// <summary>Half of the 95 % interval of a density in percent, measured on simulated films of seeds 3000 to 3029: a canal that is flat along the ray looks denser.</summary>
    private const double HalfPercent = 27;

    /// <summary>Levels from which a density along the filling is given.</summary>
    private const int LeastLevels = 20;

    /// <summary>
    /// How dense the filling is along itself: what it stands out by per width, in percent of its own median. Films have no absolute scale; only
    /// differences within one filling are told. Empty where less than 20 levels are seen alone.
    /// </summary>
    public IReadOnlyList<(double LevelPixels, Estimate Percent)> Densities()
    {
        var seen = Samples
            .Where(sample => sample.ContrastPerPixel is not null
                && sample.LevelPixels > LeftOutPixels
                && sample.LevelPixels < (FilledToPixels?.Value ?? 0) - LeftOutPixels)
            .Select(sample => (sample.LevelPixels, PerWidth: sample.ContrastPerPixel!.Value))
            .ToArray();
        if (seen.Length < LeastLevels)
        {
            return [];
        }

        var usual = seen.Select(level => level.PerWidth).Order().ElementAt(seen.Length / 2);
        return [.. seen.Select(level => (level.LevelPixels, Estimate.Within(100 * level.PerWidth / usual, HalfPercent)))];
    }
}
