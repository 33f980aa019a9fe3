namespace Secondpass.Radiographs.Trace;

/// <summary>Smoothing of a row of equally spaced values of uneven weight.</summary>
internal static class Penalised
{
    /// <summary>
    /// The row u that minimises Σ weight·(u − value)² + stiffness·Σ(second difference of u)². Values of weight 0 are bridged smoothly.
    /// </summary>
    /// <param name="values">At least three values.</param>
    /// <param name="weights">One weight per value, not negative; at least two positive.</param>
    /// <param name="stiffness">Weight of the bending term; 0 returns the values.</param>
    /// <remarks>Whittaker, Proc Edinb Math Soc 1923;41:63–75, solved by elimination in a band of five.</remarks>
    public static double[] Smooth(ReadOnlySpan<double> values, ReadOnlySpan<double> weights, double stiffness)
    {
        var n = values.Length;
        var main = new double[n];
        var next = new double[n];
        var second = new double[n];
        var right = new double[n];
        for (var i = 0; i < n; i++)
        {
            main[i] = weights[i] + 1e-9;
            right[i] = weights[i] * values[i];
        }

        for (var i = 1; i < n - 1; i++)
        {
            main[i - 1] += stiffness;
            main[i] += 4 * stiffness;
            main[i + 1] += stiffness;
            next[i - 1] -= 2 * stiffness;
            next[i] -= 2 * stiffness;
            second[i - 1] += stiffness;
        }

        for (var i = 0; i < n; i++)
        {
            if (i + 1 < n)
            {
                var factor = next[i] / main[i];
                main[i + 1] -= factor * next[i];
                if (i + 2 < n)
                {
                    next[i + 1] -= factor * second[i];
                }

                right[i + 1] -= factor * right[i];
            }

            if (i + 2 < n)
            {
                var factor = second[i] / main[i];
                main[i + 2] -= factor * second[i];
                right[i + 2] -= factor * right[i];
            }
        }

        var result = new double[n];
        for (var i = n - 1; i >= 0; i--)
        {
            var sum = right[i];
            if (i + 1 < n)
            {
                sum -= next[i] * result[i + 1];
            }

            if (i + 2 < n)
            {
                sum -= second[i] * result[i + 2];
            }

            result[i] = sum / main[i];
        }

        return result;
    }
}
