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

    private ShiftCurve(double levelPixels, PixelPoint direction, bool onOutline, float[] cost)
    {
        OnOutline = onOutline;
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

    /// <summary>Whether the place lies on the root's outline and the direction points outwards: an outline may swell or shrink as a whole between two exposures.</summary>
    public bool OnOutline { get; }

    /// <summary>Makes a curve.</summary>
    /// <param name="levelPixels">Level of the canal.</param>
    /// <param name="direction">Direction of the shifts.</param>
    /// <param name="onOutline">Whether it lies on the root's outline, the direction outwards.</param>
    /// <param name="squares">Sum of squares for each shift, from the most negative.</param>
    /// <param name="unit">Squares that make one unit of variance.</param>
    public static ShiftCurve From(double levelPixels, PixelPoint direction, bool onOutline, double[] squares, double unit)
    {
        var least = squares.Min();
        return new ShiftCurve(levelPixels, direction, onOutline, [.. squares.Select(square => (float)Math.Min(GreatestCost, 0.5 * (square - least) / unit))]);
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
        const double Step = 1.0 / StepsPerPixel;
        var best = shiftPixels;
        for (var shift = shiftPixels - Reach; shift <= shiftPixels + Reach; shift += Step)
        {
            if (CostAt(shift) < CostAt(best))
            {
                best = shift;
            }
        }

        // The exact bottom from its two neighbours; how sure it is, from a pixel to either side.
        var (before, here, after) = (CostAt(best - Step), CostAt(best), CostAt(best + Step));
        var sharpness = before - (2 * here) + after;
        var bottom = sharpness > 1e-6 ? best + (0.5 * Step * Math.Clamp((before - after) / sharpness, -1, 1)) : best;
        var bend = CostAt(bottom - 1) - (2 * CostAt(bottom)) + CostAt(bottom + 1);
        return (bottom, Math.Max(0, bend));
    }
}
