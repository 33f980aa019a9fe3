using Secondpass.Domain.Films;

namespace Secondpass.Radiographs.Register;

/// <summary>What one place says of the local shift in one direction: a cost for each shift along it.</summary>
/// <remarks>Costs are half squared deviations in units of their noise, so that they add up and one is one.</remarks>
internal sealed class ShiftCurve
{
    /// <summary>Shifts go from minus to plus this many pixels of the film before.</summary>
    public const int GreatestShiftPixels = 16;

    /// <summary>Costs per pixel of shift.</summary>
    public const int StepsPerPixel = 2;

    /// <summary>A place that disagrees by more than this has seen something else; it then has no opinion.</summary>
    private const double GreatestCost = 4;

    private readonly float[] cost;

    private ShiftCurve(double levelPixels, PixelPoint direction, float[] cost)
    {
        LevelPixels = levelPixels;
        Direction = direction;
        this.cost = cost;
    }

    /// <summary>Number of shifts that have a cost.</summary>
    public static int Count => (2 * GreatestShiftPixels * StepsPerPixel) + 1;

    /// <summary>The level of the canal that this place moves with, in pixels from the orifice.</summary>
    public double LevelPixels { get; }

    /// <summary>The direction of the shifts, of length 1, in pixels of the film before.</summary>
    public PixelPoint Direction { get; }

    /// <summary>Makes a curve.</summary>
    /// <param name="levelPixels">Level of the canal.</param>
    /// <param name="direction">Direction of the shifts.</param>
    /// <param name="squares">Sum of squares for each shift, from the most negative.</param>
    /// <param name="unit">Squares that make one unit of variance.</param>
    public static ShiftCurve From(double levelPixels, PixelPoint direction, double[] squares, double unit)
    {
        var least = squares.Min();
        return new ShiftCurve(levelPixels, direction, [.. squares.Select(square => (float)Math.Min(GreatestCost, 0.5 * (square - least) / unit))]);
    }

    /// <summary>The cost of a shift, given as a vector of which only the part along <see cref="Direction"/> counts.</summary>
    public double CostOf(PixelPoint shift) => CostAt((shift.X * Direction.X) + (shift.Y * Direction.Y));

    /// <summary>The cost of a shift along the direction, in pixels; beyond the ends the greatest.</summary>
    public double CostAt(double shiftPixels)
    {
        var place = (shiftPixels + GreatestShiftPixels) * StepsPerPixel;
        if (place < 0 || place >= cost.Length - 1)
        {
            return GreatestCost;
        }

        var below = (int)place;
        return cost[below] + ((place - below) * (cost[below + 1] - cost[below]));
    }

    /// <summary>The best shift near a given one, and its certainty as one over its variance; certainty 0 where the curve is flat.</summary>
    public (double ShiftPixels, double Information) Near(double shiftPixels)
    {
        const double Reach = 2.5;
        double s2 = 0, s4 = 0, v0 = 0, v1 = 0, v2 = 0;
        var n = 0;
        for (var x = -Reach; x <= Reach; x += 0.5)
        {
            var value = CostAt(shiftPixels + x);
            s2 += x * x;
            s4 += x * x * x * x;
            v0 += value;
            v1 += x * value;
            v2 += x * x * value;
            n++;
        }

        var bend = ((n * v2) - (s2 * v0)) / ((n * s4) - (s2 * s2));
        var lean = v1 / s2;
        return bend <= 1e-4
            ? (shiftPixels, 0)
            : (shiftPixels + Math.Clamp(-lean / (2 * bend), -Reach, Reach), 2 * bend);
    }
}
