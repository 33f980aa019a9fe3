using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Phantoms.Anatomy;
using Secondpass.Phantoms.Imaging;

namespace Secondpass.Phantoms.Truth;

/// <summary>What is true of one branch on one film, from geometry alone: where it runs, where its filling ends, how wide it is.</summary>
/// <remarks>Levels are pixels along the projected centre line from the trunk's orifice.</remarks>
public sealed class BranchOnFilm
{
    private readonly PhantomTooth tooth;
    private readonly FilmGeometry geometry;
    private readonly IReadOnlyList<(double X, double Y, double Z)> line;
    private readonly double[] levels;
    private readonly double[] columns;
    private readonly double[] rows;

    /// <summary>Works out where a branch falls.</summary>
    /// <param name="tooth">The tooth.</param>
    /// <param name="geometry">How the film is taken.</param>
    /// <param name="name">The branch.</param>
    public BranchOnFilm(PhantomTooth tooth, FilmGeometry geometry, string name)
    {
        ArgumentNullException.ThrowIfNull(tooth);
        ArgumentNullException.ThrowIfNull(geometry);
        this.tooth = tooth;
        this.geometry = geometry;
        Canal = tooth.Canal(name);
        line = tooth.CentreLine(name);
        Path = new CanalPath([.. line.Select(point => geometry.Project(point.X, point.Y, point.Z))]);
        levels = [.. Path.LevelsPixels];
        columns = [.. Path.Points.Select(point => point.X)];
        rows = [.. Path.Points.Select(point => point.Y)];
        OwnFromPixels = Canal.Parent is null ? 0 : LevelOfY(Canal.OwnFromY);
    }

    /// <summary>The branch.</summary>
    public PhantomCanal Canal { get; }

    /// <summary>Its centre line on the film, from the trunk's orifice to its own end.</summary>
    public CanalPath Path { get; }

    /// <summary>Level at which it leaves its parent; 0 for a trunk.</summary>
    public double OwnFromPixels { get; }

    /// <summary>Length of the projected path in mm at the scale of the tooth's origin.</summary>
    public double LengthMillimetres => Path.LengthPixels * geometry.PixelSizeAtTooth;

    /// <summary>Length of the centre line in space in mm: never shorter than it seems on the film, apart from magnification.</summary>
    public double SpatialLengthMillimetres
    {
        get
        {
            double sum = 0;
            for (var i = 1; i < line.Count; i++)
            {
                sum += Math.Sqrt(Math.Pow(line[i].X - line[i - 1].X, 2) + Math.Pow(line[i].Y - line[i - 1].Y, 2) + Math.Pow(line[i].Z - line[i - 1].Z, 2));
            }

            return sum;
        }
    }

    /// <summary>Level at which the filling begins; null when unfilled.</summary>
    public double? FilledFromPixels => Canal.Filling is null ? null : LevelOfY(Canal.Filling.FromY);

    /// <summary>Level at which the filling ends towards the apex, greater than the path's length when it was pressed beyond; null when unfilled.</summary>
    public double? FilledToPixels => Canal.Filling is null
        ? null
        : Canal.Filling.ToY <= Canal.EndY
            ? LevelOfY(Canal.Filling.ToY)
            : Path.LengthPixels + FillingEnd!.Value.DistanceTo(Path.Points[^1]);

    /// <summary>Where the filling ends on the film; null when unfilled.</summary>
    public PixelPoint? FillingEnd
    {
        get
        {
            if (Canal.Filling is null)
            {
                return null;
            }

            var section = Canal.Filling.SectionAt(Canal.Filling.ToY);
            return geometry.Project(section.X, Canal.Filling.ToY, section.Z);
        }
    }

    /// <summary>Level of the centre line's point at a y in mm.</summary>
    public double LevelOfY(double y)
    {
        var at = Math.Clamp((y - line[0].Y) / Column.Step, 0, line.Count - 1);
        var i = Math.Min((int)at, line.Count - 2);
        return levels[i] + ((at - i) * (levels[i + 1] - levels[i]));
    }

    /// <summary>The centre line's point in space at a level, in mm.</summary>
    public (double X, double Y, double Z) InSpace(double levelPixels)
    {
        var found = Array.BinarySearch(levels, levelPixels);
        var after = Math.Clamp(found >= 0 ? found : ~found, 1, levels.Length - 1);
        var share = Math.Clamp((levelPixels - levels[after - 1]) / (levels[after] - levels[after - 1]), 0, 1);
        var (a, b) = (line[after - 1], line[after]);
        return (a.X + (share * (b.X - a.X)), a.Y + (share * (b.Y - a.Y)), a.Z + (share * (b.Z - a.Z)));
    }

    /// <summary>The level of the path's point nearest to a place of the film.</summary>
    public double NearestLevel(PixelPoint place)
    {
        // Every filling pixel asks this: plain numbers, squares instead of distances.
        var (best, level) = (double.MaxValue, 0.0);
        for (var i = 1; i < levels.Length; i++)
        {
            var (ax, ay) = (columns[i - 1], rows[i - 1]);
            var (stepX, stepY) = (columns[i] - ax, rows[i] - ay);
            var share = (((place.X - ax) * stepX) + ((place.Y - ay) * stepY)) / ((stepX * stepX) + (stepY * stepY));
            share = share < 0 ? 0 : share > 1 ? 1 : share;
            var (offX, offY) = (ax + (share * stepX) - place.X, ay + (share * stepY) - place.Y);
            var square = (offX * offX) + (offY * offY);
            if (square < best)
            {
                (best, level) = (square, levels[i - 1] + (share * (levels[i] - levels[i - 1])));
            }
        }

        return level;
    }

    /// <summary>The third in which a level lies.</summary>
    public CanalThird ThirdOf(double levelPixels) =>
        (levelPixels / Path.LengthPixels) switch
        {
            < 1.0 / 3 => CanalThird.Coronal,
            < 2.0 / 3 => CanalThird.Middle,
            _ => CanalThird.Apical,
        };

    /// <summary>The filling's edges across the path at a level, in pixels from the path, positive to the left of the way from orifice to end; null where there is none.</summary>
    public (double Left, double Right)? FillingEdges(double levelPixels) =>
        Canal.Filling is null ? null : Edges(levelPixels, 40, [Canal.Filling]);

    /// <summary>The canal's edges across the path at a level, in pixels from the path, as in <see cref="FillingEdges"/>.</summary>
    public (double Left, double Right)? CanalEdges(double levelPixels) => Edges(levelPixels, 40, [Canal.Lumen]);

    /// <summary>The root's outline across the path at a level, in pixels from the path, as in <see cref="FillingEdges"/>.</summary>
    public (double Left, double Right)? RootEdges(double levelPixels) =>
        Edges(levelPixels, 400, [.. tooth.Roots.Where(root => root.Name == Canal.Root || root.Name == "trunk").Select(root => root.Solid)]);

    /// <summary>Share of the filling's section that voids take at a level, 0 to 1, by summation over angle and radius.</summary>
    public double MissingShare(double levelPixels)
    {
        const int Angles = 48;
        const int Radii = 16;
        var y = InSpace(levelPixels).Y;
        double all = 0, gone = 0;
        for (var i = 0; i < Angles * Radii; i++)
        {
            var angle = -Math.PI + (((i / Radii) + 0.5) * 2 * Math.PI / Angles);
            var radius = ((i % Radii) + 0.5) / Radii;
            all += radius;
            gone += Canal.Voids.Any(gap => gap.Holds(y, angle, radius)) ? radius : 0;
        }

        return gone / all;
    }

    /// <summary>How much farther the root's surface lies from the filling on the left than on the right at a level, in mm; null where one of them is missing.</summary>
    public double? OffCentreMillimetres(double levelPixels) =>
        FillingEdges(levelPixels) is { } filling && RootEdges(levelPixels) is { } root
            ? (root.Left - filling.Left - (filling.Right - root.Right)) * geometry.PixelSizeAtTooth
            : null;

    private (double Left, double Right)? Edges(double levelPixels, double reachPixels, IReadOnlyList<Column> solids)
    {
        var middle = Path.At(levelPixels);
        var along = Path.DirectionAt(levelPixels, 4);

        // y runs down, so left of the way (x, y) is (y, −x).
        var left = new PixelPoint(along.Y, -along.X);
        var (first, last) = (double.NaN, double.NaN);
        for (var step = -reachPixels; step <= reachPixels; step += 0.1)
        {
            var ray = geometry.RayAt(middle.X + (step * left.X), middle.Y + (step * left.Y));
            if (solids.Any(solid => solid.Meets(ray, out _)))
            {
                first = double.IsNaN(first) ? step : first;
                last = step;
            }
        }

        return double.IsNaN(first) ? null : (last, first);
    }
}
