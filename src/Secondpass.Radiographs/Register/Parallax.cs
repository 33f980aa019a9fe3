using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;

namespace Secondpass.Radiographs.Register;

/// <summary>The direction in which roots of one tooth move against each other when the tube does, and how far each branch went.</summary>
/// <param name="Direction">Of length 1, in pixels of the film before.</param>
/// <param name="Middles">How far the middle of each branch moved along it, in pixels.</param>
/// <param name="Changes">How much more its end moved than its orifice, in pixels.</param>
/// <param name="Gain">What this explains over no correction at all, in units of the curves' cost.</param>
internal sealed record Parallax(PixelPoint Direction, double[] Middles, double[] Changes, double Gain)
{
    /// <summary>Deviation of how far a branch moves: a few degrees of tilt at a few millimetres of depth.</summary>
    private const double MiddleDeviationPixels = 6;

    /// <summary>Deviation of the change along a branch: roots spread by a few tenths of their length.</summary>
    private const double ChangeDeviationPixels = 2.5;

    private const int Angles = 36;

    /// <summary>Finds direction and distances by trying all.</summary>
    /// <remarks>
    /// A canal says little of a shift along itself. Moving the tube moves every root along one direction, by as much as the root
    /// lies in front of the middle of the tooth or behind it: what one root says across itself tells the others.
    /// </remarks>
    /// <param name="branches">Each branch's path and what places along it say.</param>
    public static Parallax Find(IReadOnlyList<(CanalPath Path, IReadOnlyList<ShiftCurve> Curves)> branches)
    {
        var still = branches.Sum(branch => branch.Curves.Sum(curve => curve.CostAt(0)));
        Parallax? best = null;
        for (var angle = 0; angle < Angles; angle++)
        {
            var (y, x) = Math.SinCos(angle * Math.PI / Angles);
            var direction = new PixelPoint(x, y);
            var middles = new double[branches.Count];
            var changes = new double[branches.Count];
            double cost = 0;
            for (var i = 0; i < branches.Count; i++)
            {
                (middles[i], changes[i], var least) = Along(branches[i].Path, branches[i].Curves, direction);
                cost += least;
            }

            if (best is null || still - cost > best.Gain)
            {
                best = new Parallax(direction, middles, changes, still - cost);
            }
        }

        return best!;
    }

    private static (double Middle, double Change, double Cost) Along(CanalPath path, IReadOnlyList<ShiftCurve> curves, PixelPoint direction)
    {
        var places = curves
            .Select(curve => (Curve: curve, Share: (curve.LevelPixels / path.LengthPixels) - 0.5, Slope: (curve.Direction.X * direction.X) + (curve.Direction.Y * direction.Y)))
            .ToArray();
        var best = (Middle: 0.0, Change: 0.0, Cost: double.PositiveInfinity);
        for (var change = -4.0; change <= 4; change += 2)
        {
            for (var middle = -ShiftCurve.GreatestShiftPixels + 3.0; middle <= ShiftCurve.GreatestShiftPixels - 3; middle++)
            {
                Try(middle, change);
            }
        }

        for (var step = 0.5; step > 0.2; step *= 0.5)
        {
            var (middle, change, _) = best;
            for (var m = -1; m <= 1; m++)
            {
                for (var c = -1; c <= 1; c++)
                {
                    Try(middle + (m * step), change + (2 * c * step));
                }
            }
        }

        return best;

        void Try(double middle, double change)
        {
            var cost = (0.5 * middle * middle / (MiddleDeviationPixels * MiddleDeviationPixels))
                + (0.5 * change * change / (ChangeDeviationPixels * ChangeDeviationPixels));
            foreach (var (curve, share, slope) in places)
            {
                cost += curve.CostAt(slope * (middle + (share * change)));
                if (cost >= best.Cost)
                {
                    return;
                }
            }

            best = (middle, change, cost);
        }
    }
}
