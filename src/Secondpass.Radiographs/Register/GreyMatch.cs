using Secondpass.Radiographs.Pixels;

namespace Secondpass.Radiographs.Register;

/// <summary>From grey values of the film after to those of the film before, for the same thing seen.</summary>
/// <remarks>
/// Two films of one tooth differ by exposure and by what the sensor's program did: black and white points and a gamma each.
/// The curve b = (α + β·aᵖ)^q holds all of these. It is fitted to the middle values of bands of grey, so that what changed on
/// few places doesn't move it; p and q are searched, α and β follow by least squares. Both films are noisy and never lie quite
/// over each other: bands by the grey of one alone flatten the curve (regression dilution: Fuller, Measurement Error Models, 1987,
/// ch. 1), so that the last fits' are by the mean of both. How badly one curve fits is told by the film after's bands, as films of
/// two teeth would look alike by the mean of both.
/// </remarks>
internal sealed class GreyMatch
{
    private static readonly double[] Powers = [0.5, 0.62, 0.77, 0.9, 1.0, 1.11, 1.3, 1.6, 2.0];

    /// <summary>Powers are dear and millions of pixels ask: the curve is tabulated.</summary>
    private const int TableSteps = 4096;

    /// <summary>Greys of unchanged places differ by no less, as a share of the film's range: half a step of a film of 8 bits.</summary>
    private const double LeastSpread = 0.002;

    private readonly double[] table = new double[TableSteps + 1];
    private readonly GreyRange from;

    private GreyMatch(GreyRange from, double rest, Func<double, double> curve)
    {
        this.from = from;
        RestDeviation = rest;
        for (var i = 0; i <= TableSteps; i++)
        {
            table[i] = curve(1.2 * i / TableSteps);
        }
    }

    /// <summary>Root mean square misfit of the middle values in bands of the film after, in grey levels of the film before.</summary>
    public double RestDeviation { get; }

    /// <summary>Fits the curve.</summary>
    /// <param name="pairs">Grey after and grey before of places seen on both films.</param>
    /// <param name="from">Least and greatest grey that the film after shows: a file may hold far less than its depth allows.</param>
    /// <param name="to">The same of the film before.</param>
    public static GreyMatch Fit(IReadOnlyList<(float After, float Before)> pairs, GreyRange from, GreyRange to)
    {
        var kept = pairs;
        var match = FitOnce(kept, from, to, null);
        for (var round = 0; round < 3; round++)
        {
            var rests = pairs.Select(pair => pair.Before - match.Of(pair.After)).ToArray();
            var spread = Math.Max(LeastSpread * to.Span, Ranks.RobustDeviation([.. rests]));
            kept = [.. pairs.Where((_, i) => Math.Abs(rests[i]) < 2.5 * spread)];
            match = FitOnce(kept, from, to, null);
        }

        for (var round = 0; round < 3; round++)
        {
            match = FitOnce(kept, from, to, match);
        }

        return match;
    }

    /// <summary>The grey value that the film before would show.</summary>
    public double Of(double after)
    {
        var place = Math.Clamp((after - from.Low) / from.Span, 0, 1.2) * (TableSteps / 1.2);
        var below = Math.Min((int)place, TableSteps - 1);
        return table[below] + ((place - below) * (table[below + 1] - table[below]));
    }

    /// <summary>The same match to another scale of the film before.</summary>
    /// <param name="scale">From the film's own greys to that scale.</param>
    /// <param name="slope">How many levels of that scale one of the film's own makes, where what did not change lies.</param>
    public GreyMatch To(Func<double, double> scale, double slope) =>
        new(from, slope * RestDeviation, share => scale(Of(from.Low + (from.Span * share))));

    private static GreyMatch FitOnce(IReadOnlyList<(float After, float Before)> pairs, GreyRange from, GreyRange to, GreyMatch? earlier)
    {
        var (a, b, weights) = Medians(pairs, from, to, earlier);
        var best = (Alpha: 0.0, Beta: 1.0, P: 1.0, Q: 1.0, Misfit: 1.0);
        var least = double.PositiveInfinity;
        foreach (var p in Powers)
        {
            foreach (var q in Powers)
            {
                var (alpha, beta) = Line(a, b, weights, p, q);
                if (beta <= 0)
                {
                    continue;
                }

                double sum = 0, all = 1e-9;
                for (var i = 0; i < a.Length; i++)
                {
                    var rest = Math.Pow(Math.Max(0, alpha + (beta * Math.Pow(a[i], p))), q) - b[i];
                    sum += weights[i] * rest * rest;
                    all += weights[i];
                }

                // Among curves that fit alike the plainer one extrapolates better.
                var misfit = Math.Sqrt(sum / all);
                var price = misfit + (2e-4 * (Math.Abs(Math.Log(p)) + Math.Abs(Math.Log(q))));
                if (price < least)
                {
                    least = price;
                    best = (alpha, beta, p, q, misfit);
                }
            }
        }

        return new GreyMatch(
            from,
            earlier?.RestDeviation ?? (best.Misfit * to.Span),
            after => to.Low + (to.Span * Math.Pow(Math.Max(0, best.Alpha + (best.Beta * Math.Pow(after, best.P))), best.Q)));
    }

    /// <summary>For each band of grey the middle greys on both films: what changed on few places doesn't move them.</summary>
    /// <param name="pairs">Grey after and grey before.</param>
    /// <param name="from">Range of the film after; greys after are returned as shares of it.</param>
    /// <param name="to">Range of the film before; greys before are returned as shares of it.</param>
    /// <param name="earlier">An earlier match, which tells what the mean of both films is; null for bands by the film after.</param>
    private static (double[] After, double[] Before, double[] Weights) Medians(
        IReadOnlyList<(float After, float Before)> pairs,
        GreyRange from,
        GreyRange to,
        GreyMatch? earlier)
    {
        const int Bands = 64;
        const double NearlyClipped = 0.99;
        var bands = new List<(double After, double Before)>[Bands];
        foreach (var pair in pairs)
        {
            var after = (pair.After - from.Low) / from.Span;
            var before = (pair.Before - to.Low) / to.Span;
            if (after < NearlyClipped && before < NearlyClipped)
            {
                var place = earlier is null ? after : (before + ((earlier.Of(pair.After) - to.Low) / to.Span)) / 2;
                (bands[Math.Clamp((int)(place * Bands), 0, Bands - 1)] ??= []).Add((after, before));
            }
        }

        var used = bands.Where(band => band is { Count: >= 25 }).ToArray();
        return (
            [.. used.Select(band => Ranks.Median([.. band.Select(one => one.After)]))],
            [.. used.Select(band => Ranks.Median([.. band.Select(one => one.Before)]))],
            [.. used.Select(band => Math.Min(1, Math.Sqrt(band.Count / 1000.0)))]);
    }

    private static (double Alpha, double Beta) Line(double[] a, double[] b, double[] weights, double p, double q)
    {
        double s0 = 1e-12, s1 = 0, s2 = 0, v0 = 0, v1 = 0;
        for (var i = 0; i < a.Length; i++)
        {
            var x = Math.Pow(a[i], p);
            var y = Math.Pow(b[i], 1 / q);

            // Weighted so that the misfit counts in grey levels, not in the bent scale.
            var weight = weights[i] * Math.Pow(q * Math.Pow(Math.Max(y, 1e-2), q - 1), 2);
            s0 += weight;
            s1 += weight * x;
            s2 += weight * x * x;
            v0 += weight * y;
            v1 += weight * x * y;
        }

        var determinant = (s0 * s2) - (s1 * s1);
        return determinant < 1e-12 ? (v0 / s0, 0) : (((s2 * v0) - (s1 * v1)) / determinant, ((s0 * v1) - (s1 * v0)) / determinant);
    }
}
