using MathNet.Numerics.LinearAlgebra;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Pixels;

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

    /// <summary>How far the last place that the filling tells lies from the mark before the mark counts, in pixels.</summary>
    private const double MarkBeyondPixels = 12;

    /// <summary>Weight of a mark beside that of one place of a filling: a mark errs by 2 pixels, four such places together by a quarter.</summary>
    private const double MarkWeight = 0.06;

    /// <summary>Least deviation of what counts as an outlier, in pixels.</summary>
    private const double LeastDeviationPixels = 0.15;

    /// <summary>Times that outliers are weighed anew.</summary>
    private const int RobustRounds = 3;

    /// <summary>A straight part shorter than this can be the arc's own going on, in pixels; measured on simulated films of seeds 3000 to 3109.</summary>
    private const double SeenStraightPixels = 50;

    /// <summary>Most that canals were found to turn farther than was seen, in degrees; on the same films.</summary>
    private const double MostUnseenTurnDegrees = 9;

    private readonly double length;
    private readonly double certainTo;
    private readonly double[] parameters;
    private readonly Matrix<double> covariance;

    private CanalCurve(double length, double certainTo, double[] parameters, Matrix<double> covariance, double restPixels)
    {
        this.length = length;
        this.certainTo = certainTo;
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

    /// <summary>
    /// How much farther the canal would turn if the arc ran on to its end, in degrees; 0 where a second straight part is seen. What
    /// tells an arc from a line near an end is less than a filling's blurred tip.
    /// </summary>
    public double UnseenTurnDegrees =>
        certainTo - ReturnsAtPixels >= SeenStraightPixels ? 0 : Math.Min(MostUnseenTurnDegrees, (length - ReturnsAtPixels) / Radius(parameters) * 180 / Math.PI);

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

        return Fit(path.LengthPixels, path.LengthPixels, levels, points, weights, Start(levels, points));
    }

    /// <summary>Fits the middle of a filling: what of it is told clearly, without voids, its own end and other fillings, and what errs by chance.</summary>
    /// <param name="path">The path.</param>
    /// <param name="filling">The filling along it.</param>
    /// <param name="deviationsPixels">How far the path may lie off at each of its points, as standard deviations.</param>
    /// <returns>The fit; of the path as it is where too little filling is seen.</returns>
    public static CanalCurve FitFilling(CanalPath path, FillingProfile filling, IReadOnlyList<double> deviationsPixels)
    {
        var middle = FillingMiddle.Of(path, filling);
        if (middle.Count == 0)
        {
            return Fit(path, deviationsPixels);
        }

        var known = middle.Select(place => (place.Level, place.At, Weight: WeightOf(deviationsPixels[IndexAt(path, place.Level)]))).ToList();

        // A mark counts once, where no filling near it says more.
        if (path.LengthPixels - known[^1].Level > MarkBeyondPixels)
        {
            known.Add((path.LengthPixels, path.Points[^1], MarkWeight));
        }

        double[] levels = [.. known.Select(place => place.Level)];
        PixelPoint[] points = [.. known.Select(place => place.At)];
        double[] weights = [.. known.Select(place => place.Weight)];
        var curve = Fit(path.LengthPixels, middle[^1].Level, levels, points, weights, Start(levels, points));
        for (var round = 0; round < RobustRounds; round++)
        {
            curve = Fit(path.LengthPixels, middle[^1].Level, levels, points, curve.Trusted(levels, points, weights), curve.parameters);
        }

        return curve;
    }

    private static CanalCurve Fit(double length, double certainTo, double[] levels, PixelPoint[] points, double[] weights, double[] start)
    {
        // The straight part at the end may be short; from one start the fit can miss it.
        var (refined, information, rest) = new[] { 0.0, 0.04, 0.1 }
            .Select(share => Refine(length, levels, points, weights, Earlier(start, share * length)))
            .MinBy(fit => fit.RestPixels);
        var noise = Math.Max(rest, NoisePixels);
        var covariance = (information + (1e-9 * Matrix<double>.Build.DenseIdentity(6) * information.Diagonal().Maximum()))
            .Inverse() * (noise * noise * levels.Length / Independent(length, levels.Length));
        return new CanalCurve(length, certainTo, refined, covariance, rest);
    }

    /// <summary>How many of the places of a path count as placed independently.</summary>
    private static double Independent(double length, int count) => Math.Max(8, Math.Min(count, length / CorrelationPixels));

    /// <summary>Weights less what lies far from the fit (Tukey's biweight: Beaton, Tukey, Technometrics 1974;16:147–185).</summary>
    private double[] Trusted(double[] levels, PixelPoint[] points, double[] weights)
    {
        const double TukeyDeviations = 4.685;
        var line = new StraightArcStraight(parameters);
        var off = levels.Select((level, i) => line.Place(level).DistanceTo(points[i]) * Math.Sqrt(Math.Min(1, weights[i]))).ToArray();
        var deviation = Math.Max(LeastDeviationPixels, 1.4826 * Ranks.Median([.. off]));
        return [.. weights.Select((weight, i) => weight * Math.Pow(Math.Max(0, 1 - Math.Pow(off[i] / (TukeyDeviations * deviation), 2)), 2))];
    }

    /// <summary>Weight of a place of the path, 1 where a filling holds it.</summary>
    private static double WeightOf(double deviation)
    {
        var held = PathDeviation.FilledPixels / Math.Max(deviation, PathDeviation.FilledPixels);
        return held >= 1 ? 1 : held * held * CorrelationPixels / CorrelationUnheldPixels;
    }

    private static int IndexAt(CanalPath path, double level)
    {
        var (below, index) = (-1, path.LevelsPixels.Count - 1);
        while (index - below > 1)
        {
            var middle = (below + index) / 2;
            (below, index) = path.LevelsPixels[middle] < level ? (middle, index) : (below, middle);
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
        var line = new StraightArcStraight(p);
        var leaves = line.Place(p[3]);
        var last = line.Place(length);
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
        double length,
        double[] levels,
        PixelPoint[] points,
        double[] weights,
        double[] start)
    {
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
        var unheld = Math.Sqrt(Math.Max(0, 1 - weights.Average()));
        return unheld * NoisePixels * Math.Sqrt(weights.Length / Independent(length, weights.Length)) * length / UsualTightness;
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
        var line = new StraightArcStraight(p);
        double sum = 0;
        for (var i = 0; i < levels.Length; i++)
        {
            var off = line.Place(levels[i]) - points[i];
            sum += weights[i] * ((off.X * off.X) + (off.Y * off.Y));
        }

        return sum;
    }

    private static (Matrix<double> Information, Vector<double> Pull) Normal(double[] levels, PixelPoint[] points, double[] weights, double[] p)
    {
        var line = new StraightArcStraight(p);
        Span<PixelPoint> slopes = stackalloc PixelPoint[6];

        // In plain arrays, column by column: a matrix checks each of its places.
        var information = new double[36];
        var pull = new double[6];
        for (var i = 0; i < levels.Length; i++)
        {
            var off = points[i] - line.Place(levels[i], slopes);
            for (var k = 0; k < 6; k++)
            {
                var (x, y) = (weights[i] * slopes[k].X, weights[i] * slopes[k].Y);
                pull[k] += (x * off.X) + (y * off.Y);
                for (var m = 0; m < 6; m++)
                {
                    information[(6 * k) + m] += (x * slopes[m].X) + (y * slopes[m].Y);
                }
            }
        }

        return (Matrix<double>.Build.Dense(6, 6, information), Vector<double>.Build.Dense(pull));
    }

    private static double Wrapped(double angle) => angle - (2 * Math.PI * Math.Floor((angle + Math.PI) / (2 * Math.PI)));
}
