using MathNet.Numerics.LinearAlgebra;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Pixels;

namespace Secondpass.Radiographs.Register;

/// <summary>How much further than the global match each level of a canal has moved, because roots lie at different depths.</summary>
/// <param name="LevelsPixels">Levels on the film before.</param>
/// <param name="Shifts">Correction at each level, in pixels of the film before, to be added before the global match.</param>
/// <param name="DeviationPixels">Standard deviation of each correction, in pixels, the greater of its two directions.</param>
/// <param name="RestRmsPixels">What single windows disagree by with the smooth course, weighted root mean square in pixels.</param>
/// <param name="LikelyShare">Share of windows, 0 to 1, that found themselves again.</param>
internal sealed record LocalShifts(
    double[] LevelsPixels,
    PixelPoint[] Shifts,
    double[] DeviationPixels,
    double RestRmsPixels,
    double LikelyShare)
{
    /// <summary>The correction at a level, between its neighbours.</summary>
    public PixelPoint At(double levelPixels)
    {
        if (levelPixels <= LevelsPixels[0])
        {
            return Shifts[0];
        }

        for (var i = 1; i < LevelsPixels.Length; i++)
        {
            if (levelPixels <= LevelsPixels[i])
            {
                return Shifts[i - 1].Towards(Shifts[i], (levelPixels - LevelsPixels[i - 1]) / (LevelsPixels[i] - LevelsPixels[i - 1]));
            }
        }

        return Shifts[^1];
    }

    /// <summary>The greatest standard deviation near a level.</summary>
    public double DeviationAt(double levelPixels)
    {
        var nearest = 0;
        for (var i = 1; i < LevelsPixels.Length; i++)
        {
            if (Math.Abs(LevelsPixels[i] - levelPixels) < Math.Abs(LevelsPixels[nearest] - levelPixels))
            {
                nearest = i;
            }
        }

        return DeviationPixels[nearest];
    }
}

/// <summary>Finds local shifts along one canal.</summary>
/// <remarks>
/// In windows across the root, with the filling masked out, the film after is moved, brightened and shaded until it
/// fits the film before best; the windows' opinions, each with its own certainty in each direction, are then joined by a
/// smooth course along the canal.
/// </remarks>
internal static class LocalShiftFinder
{
    private const int Shrink = 2;
    private const double GreatestShiftPixels = 16;
    private const double LeastLikeness = 0.35;

    /// <summary>Neighbouring pixels of a shrunken film share noise and trabeculae: about this many count as one.</summary>
    private const double PixelsPerOpinion = 20;

    /// <summary>Deviation of the course's second difference per window step, in pixels.</summary>
    private const double BendDeviationPixels = 0.35;

    /// <summary>Deviation of the correction itself: a few degrees of tilt at a few millimetres of depth.</summary>
    private const double PriorDeviationPixels = 8;

    /// <summary>Finds them.</summary>
    /// <param name="before">The film before, blurred a little and shrunk by 2.</param>
    /// <param name="after">The film after likewise, turned over if it is inverted.</param>
    /// <param name="open">1 where the film before may be compared, 0 on fillings; shrunk by 2.</param>
    /// <param name="path">The canal on the film before, in its full pixels.</param>
    /// <param name="map">The global match, in full pixels.</param>
    /// <param name="millimetresPerPixel">Scale of the film before, or the usual 0.03.</param>
    public static LocalShifts Find(
        GreyImage before,
        GreyImage after,
        GreyImage open,
        CanalPath path,
        PlaneMap map,
        double millimetresPerPixel)
    {
        var across = (int)Math.Round(2.3 / millimetresPerPixel / Shrink, MidpointRounding.AwayFromZero);
        var along = (int)Math.Round(0.9 / millimetresPerPixel / Shrink, MidpointRounding.AwayFromZero);
        var stepPixels = 0.7 / millimetresPerPixel;
        var count = Math.Max(4, (int)Math.Round(path.LengthPixels / stepPixels, MidpointRounding.AwayFromZero) + 1);
        var levels = new double[count];
        var opinions = new Opinion[count];
        var small = map.Shrunk(Shrink);
        for (var i = 0; i < count; i++)
        {
            levels[i] = path.LengthPixels * i / (count - 1);
        }

        Parallel.For(0, count, i => opinions[i] = Ask(before, after, open, path, levels[i], small, across, along));
        return Join(levels, opinions);
    }

    private static Opinion Ask(
        GreyImage before,
        GreyImage after,
        GreyImage open,
        CanalPath path,
        double level,
        PlaneMap map,
        int across,
        int along)
    {
        var at = path.At(level);
        var centre = new PixelPoint((at.X - 0.5) / Shrink, (at.Y - 0.5) / Shrink);
        var direction = path.DirectionAt(level, 15);
        var left = new PixelPoint(direction.Y, -direction.X);
        var pixels = new List<(PixelPoint Place, float Value, float U, float V)>((2 * across) * (2 * along));
        for (var v = -along; v <= along; v++)
        {
            for (var u = -across; u <= across; u++)
            {
                var place = centre + (left * u) + (direction * v);
                if (place.X >= 1 && place.Y >= 1 && place.X <= before.Width - 2 && place.Y <= before.Height - 2
                    && open.At(place.X, place.Y) > 0.99f)
                {
                    pixels.Add((place, before.At(place.X, place.Y), u / (float)across, v / (float)along));
                }
            }
        }

        return pixels.Count < across * along ? Opinion.None : Fit(pixels, after, map);
    }

    private static Opinion Fit(List<(PixelPoint Place, float Value, float U, float V)> pixels, GreyImage after, PlaneMap map)
    {
        var shift = new PixelPoint(0, 0);
        var scale = double.PositiveInfinity;
        Matrix<double>? information = null;
        double likeness = 0;
        for (var round = 0; round < 9; round++)
        {
            var normal = Matrix<double>.Build.Dense(6, 6);
            var pull = Vector<double>.Build.Dense(6);
            var slope = new double[6];
            var rests = new List<double>(pixels.Count);
            var (gain, offset, leanU, leanV, like, there) = Grey(pixels, after, map, shift);
            if (there < 0.6 * pixels.Count)
            {
                return Opinion.None;
            }

            likeness = like;
            foreach (var (place, value, u, v) in pixels)
            {
                var on = map.Of(place + shift);
                if (on.X < 1 || on.Y < 1 || on.X > after.Width - 2 || on.Y > after.Height - 2)
                {
                    continue;
                }

                var seen = after.At(on.X, on.Y);
                var ax = 0.5 * (after.At(on.X + 1, on.Y) - after.At(on.X - 1, on.Y));
                var ay = 0.5 * (after.At(on.X, on.Y + 1) - after.At(on.X, on.Y - 1));
                var rest = value - ((gain * seen) + offset + (leanU * u) + (leanV * v));
                rests.Add(rest);
                var tamed = double.IsInfinity(scale) ? 0 : rest / (2.2 * scale);
                var trust = 1 / Math.Pow(1 + (tamed * tamed), 2);
                slope[0] = gain * ((ax * map.A) + (ay * map.D));
                slope[1] = gain * ((ax * map.B) + (ay * map.E));
                slope[2] = seen;
                slope[3] = 1;
                slope[4] = u;
                slope[5] = v;
                for (var k = 0; k < 6; k++)
                {
                    pull[k] += trust * slope[k] * rest;
                    for (var m = 0; m < 6; m++)
                    {
                        normal[k, m] += trust * slope[k] * slope[m];
                    }
                }
            }

            scale = Math.Max(1e-6, Ranks.RobustDeviation([.. rests]));
            for (var k = 0; k < 6; k++)
            {
                normal[k, k] *= 1 + 1e-6;
                normal[k, k] += 1e-9;
            }

            var step = normal.Solve(pull);
            if (!step.ForAll(double.IsFinite))
            {
                return Opinion.None;
            }

            var length = double.Hypot(step[0], step[1]);
            var limit = length > 3 ? 3 / length : 1;
            shift += new PixelPoint(step[0], step[1]) * limit;
            information = normal;
            if (double.Hypot(shift.X, shift.Y) * Shrink > GreatestShiftPixels)
            {
                return Opinion.None;
            }

            if (length < 0.02)
            {
                break;
            }
        }

        if (information is null || likeness < LeastLikeness)
        {
            return Opinion.None;
        }

        // What is known of the shift once grey and shading are free as well.
        var free = information.SubMatrix(2, 4, 2, 4);
        var mixed = information.SubMatrix(0, 2, 2, 4);
        var own = (information.SubMatrix(0, 2, 0, 2) - (mixed * free.Inverse() * mixed.Transpose())) / (scale * scale * PixelsPerOpinion);
        return new Opinion(true, shift * Shrink, own[0, 0] / (Shrink * Shrink), own[0, 1] / (Shrink * Shrink), own[1, 1] / (Shrink * Shrink));
    }

    private static (double Gain, double Offset, double LeanU, double LeanV, double Likeness, int There) Grey(
        List<(PixelPoint Place, float Value, float U, float V)> pixels,
        GreyImage after,
        PlaneMap map,
        PixelPoint shift)
    {
        var normal = Matrix<double>.Build.Dense(4, 4);
        var pull = Vector<double>.Build.Dense(4);
        double sum = 0, sumSquares = 0;
        var there = 0;
        var slope = new double[4];
        foreach (var (place, value, u, v) in pixels)
        {
            var on = map.Of(place + shift);
            if (on.X < 1 || on.Y < 1 || on.X > after.Width - 2 || on.Y > after.Height - 2)
            {
                continue;
            }

            there++;
            slope[0] = after.At(on.X, on.Y);
            slope[1] = 1;
            slope[2] = u;
            slope[3] = v;
            sum += value;
            sumSquares += value * value;
            for (var k = 0; k < 4; k++)
            {
                pull[k] += slope[k] * value;
                for (var m = 0; m < 4; m++)
                {
                    normal[k, m] += slope[k] * slope[m];
                }
            }
        }

        if (there < 10)
        {
            return (1, 0, 0, 0, 0, there);
        }

        for (var k = 0; k < 4; k++)
        {
            normal[k, k] += 1e-9;
        }

        var found = normal.Solve(pull);
        var variance = sumSquares - (sum * sum / there);
        var rest = sumSquares - found.DotProduct(pull);
        var explained = variance > 0 ? 1 - (rest / variance) : 0;
        return (found[0], found[1], found[2], found[3], found[0] > 0 ? Math.Sqrt(Math.Max(0, explained)) : 0, there);
    }

    private static LocalShifts Join(double[] levels, Opinion[] opinions)
    {
        var n = levels.Length;
        var system = Matrix<double>.Build.Dense(2 * n, 2 * n);
        var right = Vector<double>.Build.Dense(2 * n);
        var weights = Enumerable.Repeat(1.0, n).ToArray();
        var solution = Vector<double>.Build.Dense(2 * n);
        Matrix<double> covariance = system;
        for (var round = 0; round < 3; round++)
        {
            system.Clear();
            right.Clear();
            for (var i = 0; i < n; i++)
            {
                var opinion = opinions[i];
                var w = opinion.Given ? weights[i] : 0;
                system[2 * i, 2 * i] += (w * opinion.XX) + (1 / (PriorDeviationPixels * PriorDeviationPixels * n));
                system[(2 * i) + 1, (2 * i) + 1] += (w * opinion.YY) + (1 / (PriorDeviationPixels * PriorDeviationPixels * n));
                system[2 * i, (2 * i) + 1] += w * opinion.XY;
                system[(2 * i) + 1, 2 * i] += w * opinion.XY;
                right[2 * i] += w * ((opinion.XX * opinion.Shift.X) + (opinion.XY * opinion.Shift.Y));
                right[(2 * i) + 1] += w * ((opinion.XY * opinion.Shift.X) + (opinion.YY * opinion.Shift.Y));
            }

            for (var i = 1; i < n - 1; i++)
            {
                for (var axis = 0; axis < 2; axis++)
                {
                    AddBend(system, (2 * (i - 1)) + axis, (2 * i) + axis, (2 * (i + 1)) + axis);
                }
            }

            solution = system.Solve(right);
            covariance = system.Inverse();
            for (var i = 0; i < n; i++)
            {
                weights[i] = opinions[i].Given ? 1 / (1 + (Disagreement(opinions[i], solution, i) / 9)) : 0;
            }
        }

        double sum = 0, weight = 0;
        var given = 0;
        for (var i = 0; i < n; i++)
        {
            if (opinions[i].Given)
            {
                given++;
                var away = opinions[i].Shift - new PixelPoint(solution[2 * i], solution[(2 * i) + 1]);
                var trust = weights[i];
                sum += trust * ((away.X * away.X) + (away.Y * away.Y));
                weight += trust;
            }
        }

        return new LocalShifts(
            levels,
            [.. Enumerable.Range(0, n).Select(i => new PixelPoint(solution[2 * i], solution[(2 * i) + 1]))],
            [.. Enumerable.Range(0, n).Select(i => Math.Sqrt(Math.Max(covariance[2 * i, 2 * i], covariance[(2 * i) + 1, (2 * i) + 1])))],
            weight > 0 ? Math.Sqrt(sum / weight) : 0,
            given / (double)n);
    }

    private static double Disagreement(Opinion opinion, Vector<double> solution, int i)
    {
        var x = opinion.Shift.X - solution[2 * i];
        var y = opinion.Shift.Y - solution[(2 * i) + 1];
        return (opinion.XX * x * x) + (2 * opinion.XY * x * y) + (opinion.YY * y * y);
    }

    private static void AddBend(Matrix<double> system, int before, int here, int after)
    {
        const double Weight = 1 / (BendDeviationPixels * BendDeviationPixels);
        ReadOnlySpan<int> places = [before, here, after];
        ReadOnlySpan<double> factors = [1, -2, 1];
        for (var a = 0; a < 3; a++)
        {
            for (var b = 0; b < 3; b++)
            {
                system[places[a], places[b]] += Weight * factors[a] * factors[b];
            }
        }
    }

    /// <summary>What one window says: its shift and how sure it is, as an information matrix, in full pixels.</summary>
    private readonly record struct Opinion(bool Given, PixelPoint Shift, double XX, double XY, double YY)
    {
        public static Opinion None { get; }
    }
}
