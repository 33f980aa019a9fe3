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
}

/// <summary>Width of the old filling against level along one branch, as seen on one film.</summary>
/// <remarks>Not the width of the canal: an unfilled part of a canal has no filling width. Widths are those of the projection.</remarks>
/// <param name="Samples">From orifice to end, equally spaced (0.1 mm apart, or 3 pixels where the film has no scale).</param>
/// <param name="FilledFromPixels">Level at which filling is first seen; null when none is.</param>
/// <param name="FilledToPixels">Level at which the filling ends towards the apex, with interval; null when none is seen.</param>
public sealed record FillingProfile(
    IReadOnlyList<FillingSample> Samples,
    double? FilledFromPixels,
    Estimate? FilledToPixels);
