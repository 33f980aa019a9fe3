using Secondpass.Domain.Anatomy;
using Secondpass.Radiographs.Pixels;

namespace Secondpass.Radiographs.Register;

/// <summary>Weights of pixels by their distance from the traced canals.</summary>
internal static class CanalRegion
{
    private const int Cell = 4;

    /// <summary>Weights that fall off smoothly away from the canals: 1 on them, half at <paramref name="reachPixels"/>.</summary>
    public static GreyImage Around(int width, int height, IReadOnlyList<CanalPath> paths, double reachPixels, double least)
    {
        var region = new GreyImage(width, height);
        var places = paths.SelectMany(path => Enumerable.Range(0, (int)(path.LengthPixels / 12) + 1).Select(i => path.At(i * 12.0))).ToArray();
        var columns = (width + Cell - 1) / Cell;
        var rows = (height + Cell - 1) / Cell;
        var coarse = new GreyImage(columns, rows);
        Parallel.For(0, rows, row =>
        {
            for (var column = 0; column < columns; column++)
            {
                double nearest = double.PositiveInfinity;
                foreach (var place in places)
                {
                    var dx = place.X - (column * Cell);
                    var dy = place.Y - (row * Cell);
                    nearest = Math.Min(nearest, (dx * dx) + (dy * dy));
                }

                var far = nearest / (reachPixels * reachPixels);
                coarse[column, row] = (float)Math.Max(least, 1 / (1 + (far * far)));
            }
        });
        Parallel.For(0, height, y =>
        {
            for (var x = 0; x < width; x++)
            {
                region[x, y] = coarse.At(x / (double)Cell, y / (double)Cell);
            }
        });
        return region;
    }
}
