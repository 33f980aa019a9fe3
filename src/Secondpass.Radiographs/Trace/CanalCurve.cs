using MathNet.Numerics.LinearAlgebra;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;

namespace Secondpass.Radiographs.Trace;

/// <summary>
/// A canal as a straight part, one arc of a circle and another straight part, fitted to its path: the construction after
/// which both classic curvatures are defined.
/// </summary>
/// <remarks>
/// Schneider, Oral Surg 1971;32:271–275: the angle between the canal's long axis from the orifice and the line from the
/// place where the canal leaves that axis to its end. Pruett, Clement, Carnes, J Endod 1997;23:77–85: the circle that
/// touches both straight parts where the canal leaves them; its radius, and the angle between the straight parts.
/// Here the places are those of the least-squares fit, so that no eye chooses them.
/// </remarks>
internal sealed class CanalCurve
{
    private const int Samples = 121;

    /// <summary>Least radius of an arc as a share of the canal's length: a hook at the end of a path is no curve of a canal.</summary>
    private const double LeastRadiusShare = 0.1;

    /// <summary>Greatest turn that is looked for, in radians.</summary>
    private const double MostTurn = 2.6;

    /// <summary>
    /// Standard deviation of how tightly canals curve: length of the canal over the radius of its arc. Where fillings hold
    /// the whole path it makes no difference; where they don't, a gentle arc is taken before a sharp one.
    /// </summary>
    private const double UsualTightness = 1.8;

    /// <summary>Points further apart than this along the path are taken as independently placed.</summary>
    private const double CorrelationPixels = 12;

    /// <summary>The same where no filling holds the path to its place, or another draws it aside.</summary>
    private const double CorrelationUnheldPixels = 60;

    /// <summary>Least deviation of a path's places, in pixels.</summary>
    private const double NoisePixels = 0.35;

    private readonly double length;
    private readonly double[] parameters;
    private readonly Matrix<double> covariance;

    private CanalCurve(double length, double[] parameters, Matrix<double> covariance, double restPixels)
    {
        this.length = length;
        this.parameters = parameters;
        this.covariance = covariance;
        RestPixels = restPixels;
    }

    /// <summary>Root mean square distance between path and fit, in pixels.</summary>
    public double RestPixels { get; }

    /// <summary>Level at which the canal leaves its first straight part, in pixels from the orifice.</summary>
    public double LeavesAtPixels => parameters[3];

    /// <summary>Level at which the second straight part begins.</summary>
    public double ReturnsAtPixels => parameters[4];

    /// <summary>Schneider's angle and half of its 95 % interval, in degrees.</summary>
    public (double Value, double HalfInterval) SchneiderDegrees => WithInterval(Schneider);

    /// <summary>Pruett's angle and half of its 95 % interval, in degrees.</summary>
    public (double Value, double HalfInterval) PruettDegrees => WithInterval(p => Math.Abs(p[5]) * 180 / Math.PI);

    /// <summary>Pruett's radius and half of its 95 % interval, in pixels.</summary>
    public (double Value, double HalfInterval) PruettRadiusPixels => WithInterval(Radius);

    /// <summary>Height of the arc over its chord, in pixels.</summary>
    public double SagittaPixels => Radius(parameters) * (1 - Math.Cos(Math.Abs(parameters[5]) / 2));

    /// <summary>Fits a path.</summary>
    /// <param name="path">The path.</param>
    /// <param name="deviationsPixels">How far it may lie off at each of its points, as standard deviations; null or empty: equally well known throughout.</param>
    public static CanalCurve Fit(CanalPath path, IReadOnlyList<double>? deviationsPixels = null)
    {
        var known = deviationsPixels is { Count: > 0 };
        var weights = new double[Samples];
        var levels = new double[Samples];
        var points = new PixelPoint[Samples];
        for (var i = 0; i < Samples; i++)
        {
            levels[i] = path.LengthPixels * i / (Samples - 1);
            points[i] = path.At(levels[i]);
            weights[i] = known ? WeightOf(deviationsPixels![IndexAt(path, levels[i])]) : 1;
        }

        // The straight part at the end may be short; from one start the fit can miss it.
        var start = Start(levels, points);
        var (refined, information, rest) = new[] { 0.0, 0.04, 0.1 }
            .Select(share => Refine(levels, points, weights, Earlier(start, share * path.LengthPixels)))
            .MinBy(fit => fit.RestPixels);
        var independent = Math.Max(8, Math.Min(Samples, path.LengthPixels / CorrelationPixels));
        var noise = Math.Max(rest, NoisePixels);
        var covariance = (information + (1e-9 * Matrix<double>.Build.DenseIdentity(6) * information.Diagonal().Maximum()))
            .Inverse() * (noise * noise * Samples / independent);
        return new CanalCurve(path.LengthPixels, refined, covariance, rest);
    }

    /// <summary>Weight of a place of the path, 1 where a filling holds it.</summary>
    private static double WeightOf(double deviation)
    {
        var held = PathDeviation.FilledPixels / Math.Max(deviation, PathDeviation.FilledPixels);
        return held >= 1 ? 1 : held * held * CorrelationPixels / CorrelationUnheldPixels;
    }

    private static int IndexAt(CanalPath path, double level)
    {
        var levels = path.LevelsPixels;
        var index = 0;
        while (index < levels.Count - 1 && levels[index] < level)
        {
            index++;
        }

        return index;
    }

    private static double[] Earlier(double[] start, double pixels)
    {
        var moved = (double[])start.Clone();
        moved[4] = Math.Max(moved[3] + (0.3 * (moved[4] - moved[3])), moved[4] - pixels);
        return moved;
    }

    private static double Radius(double[] p) => (p[4] - p[3]) / Math.Max(Math.Abs(p[5]), 1e-9);

    private double Schneider(double[] p)
    {
        var leaves = Place(p, p[3]);
        var last = Place(p, length);
        var chord = Math.Atan2(last.Y - leaves.Y, last.X - leaves.X);
        return Math.Abs(Wrapped(chord - p[2])) * 180 / Math.PI;
    }

    private (double Value, double HalfInterval) WithInterval(Func<double[], double> of)
    {
        var value = of(parameters);
        var gradient = Vector<double>.Build.Dense(6);
        for (var k = 0; k < 6; k++)
        {
            var step = k is 2 or 5 ? 1e-4 : 1e-2;
            var moved = (double[])parameters.Clone();
            moved[k] += step;
            gradient[k] = (of(moved) - value) / step;
        }

        var variance = gradient * covariance * gradient;
        return (value, 1.96 * Math.Sqrt(Math.Max(variance, 0)));
    }

    private static double[] Start(double[] levels, PixelPoint[] points)
    {
        var n = levels.Length - 1;
        var middle = new double[n];
        var direction = new double[n];
        for (var i = 0; i < n; i++)
        {
            middle[i] = 0.5 * (levels[i] + levels[i + 1]);
            var raw = Math.Atan2(points[i + 1].Y - points[i].Y, points[i + 1].X - points[i].X);
            direction[i] = i == 0 ? raw : direction[i - 1] + Wrapped(raw - direction[i - 1]);
        }

        var length = levels[^1];
        var best = new double[6];
        var least = double.PositiveInfinity;
        for (var b = 0; b <= 18; b++)
        {
            for (var e = b + 2; e <= 20; e++)
            {
                var (first, turn, rest) = FitDirections(middle, direction, length * b / 20, length * e / 20);
                if (rest < least)
                {
                    least = rest;
                    best = [points[0].X, points[0].Y, first, length * b / 20, length * e / 20, turn];
                }
            }
        }

        return best;
    }

    private static (double First, double Turn, double Unexplained) FitDirections(double[] level, double[] direction, double from, double to)
    {
        double s0 = level.Length, s1 = 0, s2 = 0, v0 = 0, v1 = 0, vv = 0;
        for (var i = 0; i < level.Length; i++)
        {
            var ramp = Math.Clamp((level[i] - from) / (to - from), 0, 1);
            s1 += ramp;
            s2 += ramp * ramp;
            v0 += direction[i];
            v1 += ramp * direction[i];
            vv += direction[i] * direction[i];
        }

        var determinant = (s0 * s2) - (s1 * s1);
        if (determinant < 1e-9)
        {
            return (v0 / s0, 0, double.PositiveInfinity);
        }

        var first = ((s2 * v0) - (s1 * v1)) / determinant;
        var turn = ((s0 * v1) - (s1 * v0)) / determinant;
        return (first, turn, vv - (first * v0) - (turn * v1));
    }

    private static (double[] Parameters, Matrix<double> Information, double RestPixels) Refine(
        double[] levels,
        PixelPoint[] points,
        double[] weights,
        double[] start)
    {
        var length = levels[^1];
        var here = (double[])start.Clone();
        var tightness = Tightness(length, weights);
        var cost = Cost(levels, points, weights, here) + Penalty(here, tightness);
        var damping = 1e-3;
        var information = Matrix<double>.Build.DenseIdentity(6);
        for (var round = 0; round < 40; round++)
        {
            (information, var pull) = Normal(levels, points, weights, here);
            Prefer(information, pull, here, tightness);
            var damped = information.Clone();
            for (var k = 0; k < 6; k++)
            {
                damped[k, k] = (damped[k, k] * (1 + damping)) + 1e-12;
            }

            var step = damped.Solve(pull);
            var next = (double[])here.Clone();
            for (var k = 0; k < 6; k++)
            {
                next[k] += step[k];
            }

            next[3] = Math.Clamp(next[3], 0, length * 0.97);
            next[5] = Math.Clamp(next[5], -MostTurn, MostTurn);
            var leastArc = Math.Max(0.02, LeastRadiusShare * Math.Abs(next[5])) * length;
            next[3] = Math.Min(next[3], length - leastArc);
            next[4] = Math.Min(Math.Max(next[4], next[3] + leastArc), length);
            var nextCost = Cost(levels, points, weights, next) + Penalty(next, tightness);
            if (nextCost < cost)
            {
                var gain = cost - nextCost;
                here = next;
                cost = nextCost;
                damping *= 0.3;
                if (gain < 1e-7 * cost)
                {
                    break;
                }
            }
            else
            {
                damping *= 6;
                if (damping > 1e8)
                {
                    break;
                }
            }
        }

        return (here, information, Math.Sqrt(cost / weights.Sum()));
    }

    /// <summary>Pixels that an arc as tight as canals usually are weighs as much as, over the places of the path that count as one.</summary>
    private static double Tightness(double length, double[] weights)
    {
        var independent = Math.Max(8, Math.Min(Samples, length / CorrelationPixels));
        var unheld = Math.Sqrt(Math.Max(0, 1 - weights.Average()));
        return unheld * NoisePixels * Math.Sqrt(Samples / independent) * length / UsualTightness;
    }

    private static double Penalty(double[] p, double tightness) => Math.Pow(tightness * p[5] / Math.Max(p[4] - p[3], 1e-6), 2);

    /// <summary>Adds what <see cref="Penalty"/> pulls towards.</summary>
    private static void Prefer(Matrix<double> information, Vector<double> pull, double[] p, double tightness)
    {
        var arc = Math.Max(p[4] - p[3], 1e-6);
        var value = tightness * p[5] / arc;
        var slope = Vector<double>.Build.Dense(6);
        (slope[3], slope[4], slope[5]) = (value / arc, -value / arc, tightness / arc);
        for (var k = 3; k < 6; k++)
        {
            pull[k] -= slope[k] * value;
            for (var m = 3; m < 6; m++)
            {
                information[k, m] += slope[k] * slope[m];
            }
        }
    }

    private static double Cost(double[] levels, PixelPoint[] points, double[] weights, double[] p)
    {
        double sum = 0;
        for (var i = 0; i < levels.Length; i++)
        {
            var place = Place(p, levels[i]);
            sum += weights[i] * (Math.Pow(place.X - points[i].X, 2) + Math.Pow(place.Y - points[i].Y, 2));
        }

        return sum;
    }

    private static (Matrix<double> Information, Vector<double> Pull) Normal(double[] levels, PixelPoint[] points, double[] weights, double[] p)
    {
        var information = Matrix<double>.Build.Dense(6, 6);
        var pull = Vector<double>.Build.Dense(6);
        var alongX = new double[6];
        var alongY = new double[6];
        for (var i = 0; i < levels.Length; i++)
        {
            var place = Place(p, levels[i]);
            for (var k = 0; k < 6; k++)
            {
                var step = k is 2 or 5 ? 1e-5 : 1e-3;
                var kept = p[k];
                p[k] = kept + step;
                var moved = Place(p, levels[i]);
                p[k] = kept;
                alongX[k] = (moved.X - place.X) / step;
                alongY[k] = (moved.Y - place.Y) / step;
            }

            for (var k = 0; k < 6; k++)
            {
                pull[k] += weights[i] * ((alongX[k] * (points[i].X - place.X)) + (alongY[k] * (points[i].Y - place.Y)));
                for (var m = 0; m < 6; m++)
                {
                    information[k, m] += weights[i] * ((alongX[k] * alongX[m]) + (alongY[k] * alongY[m]));
                }
            }
        }

        return (information, pull);
    }

    /// <summary>The place at a level: p holds first place, first direction, level where the arc begins and ends, and the turn in radians.</summary>
    private static PixelPoint Place(double[] p, double level)
    {
        var (from, to, turn) = (p[3], Math.Max(p[4], p[3] + 1e-6), p[5]);
        var straight = Math.Min(level, from);
        var place = new PixelPoint(p[0] + (straight * Math.Cos(p[2])), p[1] + (straight * Math.Sin(p[2])));
        if (level <= from)
        {
            return place;
        }

        var onArc = Math.Min(level, to) - from;
        var turned = turn * onArc / (to - from);
        place += Math.Abs(turned) < 1e-9
            ? new PixelPoint(onArc * Math.Cos(p[2]), onArc * Math.Sin(p[2]))
            : new PixelPoint(
                (Math.Sin(p[2] + turned) - Math.Sin(p[2])) * onArc / turned,
                (Math.Cos(p[2]) - Math.Cos(p[2] + turned)) * onArc / turned);
        var rest = Math.Max(0, level - to);
        return place + new PixelPoint(rest * Math.Cos(p[2] + turn), rest * Math.Sin(p[2] + turn));
    }

    private static double Wrapped(double angle) => angle - (2 * Math.PI * Math.Floor((angle + Math.PI) / (2 * Math.PI)));
}
