using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Pixels;

namespace Secondpass.Radiographs.Trace;

/// <summary>The root's two surfaces beside a filling, as projected on the film.</summary>
/// <param name="Left">Left of the way from orifice to end.</param>
/// <param name="Right">Right of it.</param>
internal sealed record RootWalls(RootSurface Left, RootSurface Right)
{
    /// <summary>Distance between the levels, in pixels.</summary>
    public const double LevelStepPixels = 4;

    private const double LeastWallMillimetres = 0.35;
    private const double GreatestWallMillimetres = 3.5;

    /// <summary>Finds both surfaces.</summary>
    public static RootWalls Find(GreyImage image, CanalPath path, RodProfile rods, double millimetresPerPixel)
    {
        var sides = SideBySide.Each([+1, -1], side => RootSurface.Find(image, path, rods, side, LevelStepPixels, LeastWallMillimetres / millimetresPerPixel, GreatestWallMillimetres / millimetresPerPixel));
        return new RootWalls(sides[0], sides[1]);
    }

    /// <summary>Whether along a third of the filling or more another outline stands beside the root's own.</summary>
    public bool IsOverlapped => Left.Overlapped.Zip(Right.Overlapped, (left, right) => left || right).Count(other => other) * 3 >= Left.Levels.Length;

    /// <summary>The distances from the filling's edges to the surfaces where these are clear.</summary>
    public IReadOnlyList<WallSample> Samples() =>
    [
        .. Enumerable.Range(0, Left.Levels.Length)
            .Select(i => new WallSample(Left.Levels[i], Left.Clear[i] ? Left.WallPixels[i] : null, Right.Clear[i] ? Right.WallPixels[i] : null))
            .Where(sample => sample.LeftPixels is not null || sample.RightPixels is not null),
    ];
}
