using MathNet.Numerics.LinearAlgebra;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;

namespace Secondpass.Radiographs.Register;

/// <summary>How much further than the global match each level of a canal has moved, because roots lie at different depths.</summary>
/// <param name="LevelsPixels">Levels on the film before, equally spaced.</param>
/// <param name="Shifts">Correction at each level, in pixels of the film before, to be added before the global match.</param>
/// <param name="RestRmsPixels">What single places disagree by with the smooth course, weighted root mean square in pixels.</param>
/// <param name="AgreeingShare">Share of the places asked, 0 to 1, that agree with the course.</param>
internal sealed record LocalShifts(
    double[] LevelsPixels,
    PixelPoint[] Shifts,
    double RestRmsPixels,
    double AgreeingShare)
{
    /// <summary>The correction at a level, between its neighbours.</summary>
    public PixelPoint At(double levelPixels)
    {
        var place = Math.Clamp(levelPixels / (LevelsPixels[1] - LevelsPixels[0]), 0, LevelsPixels.Length - 1);
        var below = Math.Min((int)place, LevelsPixels.Length - 2);
        return Shifts[below].Towards(Shifts[below + 1], place - below);
    }
}

/// <summary>Joins what single places say into one smooth course of shifts along a canal.</summary>
/// <remarks>
/// First one shift for the whole branch by trying all, so that no place traps the search; then a shift that changes evenly
/// along the branch; then a smooth course by least squares, where each place counts by its own certainty in its direction.
/// </remarks>
internal static class LocalShiftFinder
{
    private const double LevelStepPixels = 24;

    /// <summary>Deviation of the whole shift: a few degrees of tilt at a few millimetres of depth.</summary>
    private const double PriorDeviationPixels = 6;

    /// <summary>What two to four numbers a branch must gain over no correction at all before it is taken to have moved on its own.</summary>
    private const double LeastGain = 10;

    /// <summary>Deviation of the whole shift where the global match already explains the branch.</summary>
    private const double SettledDeviationPixels = 0.35;

    /// <summary>How far a branch strays from its even shift.</summary>
    private const double OffEvenPixels = 2;

    /// <summary>How far a branch strays from an even shift along the tooth's one direction.</summary>
    private const double OffParallaxPixels = 0.8;

    /// <summary>Deviation of how much the shift changes from orifice to end.</summary>
    private const double PriorChangePixels = 4;

    /// <summary>Deviation of the course's second difference from level to level, in pixels.</summary>
    private const double BendDeviationPixels = 0.25;

    /// <summary>
    /// Deviation of how much a root's outline swells or shrinks as a whole between two films, in pixels: blur and exposure move
    /// a soft edge. On a root that tapers it would otherwise pass for a shift along the root.
    /// </summary>
    private const double SwellDeviationPixels = 0.6;

    /// <summary>Finds the course.</summary>
    /// <param name="path">The canal on the film before.</param>
    /// <param name="curves">What places along it say.</param>
    public static LocalShifts Find(CanalPath path, IReadOnlyList<ShiftCurve> curves)
    {
        var (start, change) = BestEven(path, curves, BestWhole(curves));
        var gain = Cost(path, curves, [0, 0, 0, 0]) - Cost(path, curves, [start.X, start.Y, change.X, change.Y]);
        return gain < LeastGain
            ? Join(path, curves, new Anchor(new PixelPoint(0, 0), new PixelPoint(0, 0), SettledDeviationPixels))
            : Join(path, curves, new Anchor(start, change, OffEvenPixels));
    }

    /// <summary>Finds the courses of several branches of one tooth, which move along one direction.</summary>
    /// <param name="branches">Each branch's path and what places along it say.</param>
    public static LocalShifts[] FindTogether(IReadOnlyList<(CanalPath Path, IReadOnlyList<ShiftCurve> Curves)> branches)
    {
        if (branches.Count < 2)
        {
            return [.. branches.Select(branch => Find(branch.Path, branch.Curves))];
        }

        var parallax = Parallax.Find(branches);
        var moved = parallax.Gain >= LeastGain * branches.Count;
        return [.. branches.Select((branch, i) => Join(
            branch.Path,
            branch.Curves,
            new Anchor(
                parallax.Direction * (moved ? parallax.Middles[i] : 0),
                parallax.Direction * (moved ? parallax.Changes[i] : 0),
                moved ? OffParallaxPixels : SettledDeviationPixels)))];
    }

    private static PixelPoint BestWhole(IReadOnlyList<ShiftCurve> curves)
    {
        const int Reach = ShiftCurve.GreatestShiftPixels - 2;
        var best = new PixelPoint(0, 0);
        var least = double.PositiveInfinity;
        for (var y = -Reach; y <= Reach; y++)
        {
            for (var x = -Reach; x <= Reach; x++)
            {
                var shift = new PixelPoint(x, y);
                var cost = 0.5 * ((x * x) + (y * y)) / (PriorDeviationPixels * PriorDeviationPixels);
                for (var i = 0; i < curves.Count && cost < least; i++)
                {
                    cost += curves[i].CostOf(shift);
                }

                if (cost < least)
                {
                    least = cost;
                    best = shift;
                }
            }
        }

        return best;
    }

    private static (PixelPoint Start, PixelPoint Change) BestEven(CanalPath path, IReadOnlyList<ShiftCurve> curves, PixelPoint whole)
    {
        double[] here = [whole.X, whole.Y, 0, 0];
        var cost = Cost(path, curves, here);
        for (var step = 2.0; step > 0.2; step *= 0.5)
        {
            var better = true;
            while (better)
            {
                better = false;
                for (var k = 0; k < 4; k++)
                {
                    foreach (var sign in (ReadOnlySpan<int>)[1, -1])
                    {
                        var next = (double[])here.Clone();
                        next[k] += sign * step;
                        var nextCost = Cost(path, curves, next);
                        if (nextCost < cost - 1e-9)
                        {
                            (here, cost, better) = (next, nextCost, true);
                        }
                    }
                }
            }
        }

        return (new PixelPoint(here[0], here[1]), new PixelPoint(here[2], here[3]));
    }

    private static double Cost(CanalPath path, IReadOnlyList<ShiftCurve> curves, double[] p)
    {
        var cost = (0.5 * ((p[0] * p[0]) + (p[1] * p[1])) / (PriorDeviationPixels * PriorDeviationPixels))
            + (0.5 * ((p[2] * p[2]) + (p[3] * p[3])) / (PriorChangePixels * PriorChangePixels));
        foreach (var curve in curves)
        {
            var share = (curve.LevelPixels / path.LengthPixels) - 0.5;
            cost += curve.CostOf(new PixelPoint(p[0] + (share * p[2]), p[1] + (share * p[3])));
        }

        return cost;
    }

    /// <summary>An even shift that a smooth course is held to.</summary>
    private readonly record struct Anchor(PixelPoint Middle, PixelPoint Change, double DeviationPixels);

    private static LocalShifts Join(CanalPath path, IReadOnlyList<ShiftCurve> curves, Anchor anchor)
    {
        var n = Math.Max(4, (int)Math.Round(path.LengthPixels / LevelStepPixels, MidpointRounding.AwayFromZero) + 1);
        var levels = Enumerable.Range(0, n).Select(i => path.LengthPixels * i / (n - 1)).ToArray();
        var even = levels.Select(level => anchor.Middle + (anchor.Change * ((level / path.LengthPixels) - 0.5))).ToArray();
        var shifts = (PixelPoint[])even.Clone();
        var system = Matrix<double>.Build.Dense((2 * n) + 1, (2 * n) + 1);
        double swell = 0;
        double rest = 0, weight = 0;
        var agreeing = 0;
        for (var round = 0; round < 3; round++)
        {
            system.Clear();
            var right = Vector<double>.Build.Dense((2 * n) + 1);
            (rest, weight, agreeing) = (0, 0, 0);
            AddPrior(system, right, even, anchor.DeviationPixels);
            foreach (var curve in curves)
            {
                var place = Math.Clamp(curve.LevelPixels / (levels[1] - levels[0]), 0, n - 1);
                var below = Math.Min((int)place, n - 2);
                var share = place - below;
                var expected = shifts[below].Towards(shifts[below + 1], share);
                var along = (expected.X * curve.Direction.X) + (expected.Y * curve.Direction.Y);
                along += curve.OnOutline ? swell : 0;
                var (shift, information) = curve.Near(along);
                var off = shift - along;
                var trust = information / (1 + (off * off * information / 4));
                Add(system, right, below, share, curve, shift, trust);
                rest += trust * off * off;
                weight += trust;
                agreeing += information > 0.02 && off * off * information < 4 ? 1 : 0;
            }

            var solved = system.Solve(right);
            for (var i = 0; i < n; i++)
            {
                shifts[i] = new PixelPoint(solved[2 * i], solved[(2 * i) + 1]);
            }

            swell = solved[2 * n];
        }

        return new LocalShifts(
            levels,
            shifts,
            weight > 0 ? Math.Sqrt(rest / weight) : 0,
            curves.Count == 0 ? 0 : agreeing / (double)curves.Count);
    }

    private static void AddPrior(Matrix<double> system, Vector<double> right, PixelPoint[] even, double deviation)
    {
        var n = even.Length;
        system[2 * n, 2 * n] += 1 / (SwellDeviationPixels * SwellDeviationPixels);
        const double Bend = 1 / (BendDeviationPixels * BendDeviationPixels);
        for (var axis = 0; axis < 2; axis++)
        {
            for (var i = 1; i < n - 1; i++)
            {
                ReadOnlySpan<int> places = [(2 * (i - 1)) + axis, (2 * i) + axis, (2 * (i + 1)) + axis];
                ReadOnlySpan<double> factors = [1, -2, 1];
                for (var a = 0; a < 3; a++)
                {
                    for (var b = 0; b < 3; b++)
                    {
                        system[places[a], places[b]] += Bend * factors[a] * factors[b];
                    }
                }
            }

            // The whole and the change from end to end are held to the even shift, as far as places leave them open.
            for (var i = 0; i < n; i++)
            {
                var stiffness = 1 / (deviation * deviation * n);
                system[(2 * i) + axis, (2 * i) + axis] += stiffness;
                right[(2 * i) + axis] += stiffness * (axis == 0 ? even[i].X : even[i].Y);
            }

            var (first, last) = (axis, (2 * (n - 1)) + axis);
            var change = axis == 0 ? even[^1].X - even[0].X : even[^1].Y - even[0].Y;
            var bond = 1 / (deviation * deviation);
            system[first, first] += bond;
            system[last, last] += bond;
            system[first, last] -= bond;
            system[last, first] -= bond;
            right[first] -= bond * change;
            right[last] += bond * change;
        }
    }

    private static void Add(Matrix<double> system, Vector<double> right, int below, double share, ShiftCurve curve, double shift, double trust)
    {
        ReadOnlySpan<int> places = [2 * below, (2 * below) + 1, 2 * (below + 1), (2 * (below + 1)) + 1, system.RowCount - 1];
        ReadOnlySpan<double> slopes =
        [
            (1 - share) * curve.Direction.X,
            (1 - share) * curve.Direction.Y,
            share * curve.Direction.X,
            share * curve.Direction.Y,
            curve.OnOutline ? 1 : 0,
        ];
        for (var a = 0; a < places.Length; a++)
        {
            right[places[a]] += trust * slopes[a] * shift;
            for (var b = 0; b < places.Length; b++)
            {
                system[places[a], places[b]] += trust * slopes[a] * slopes[b];
            }
        }
    }
}
