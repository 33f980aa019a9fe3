namespace Secondpass.Domain.Films;

/// <summary>Where filling is seen on the film after that the film before shows empty.</summary>
public enum MovedTo
{
    /// <summary>Beyond the canal's end.</summary>
    BeyondEnd,

    /// <summary>In the canal, between the old filling's end and the canal's.</summary>
    Deeper,

    /// <summary>In the canal, higher up than the old filling began.</summary>
    HigherUp,
}

/// <summary>A new radiopaque patch outside the old filling: as dense as filling, where the film before shows none.</summary>
/// <remarks>What it is of, a film doesn't say: filling that was moved, sealer, a paste or debris look alike.</remarks>
/// <param name="Branch">The branch it lies nearest to.</param>
/// <param name="Where">Where it lies.</param>
/// <param name="FromPixels">Level at which it begins, in pixels from the orifice; beyond the canal's end counted straight on.</param>
/// <param name="ToPixels">Level at which it ends.</param>
/// <param name="Middle">Its middle on the film before.</param>
/// <param name="AreaSquarePixels">Its projected area, in square pixels of the film before.</param>
/// <param name="ThicknessPixels">Thickness along the ray where it is thickest, in pixels, were it of the old filling.</param>
public sealed record MovedMaterial(
    string Branch,
    MovedTo Where,
    double FromPixels,
    double ToPixels,
    PixelPoint Middle,
    double AreaSquarePixels,
    double ThicknessPixels);
