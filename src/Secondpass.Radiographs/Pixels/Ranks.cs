namespace Secondpass.Radiographs.Pixels;

/// <summary>Order statistics of small and large sets of numbers.</summary>
internal static class Ranks
{
    /// <summary>The value below which the given share of the numbers lies, by linear interpolation between neighbours. The span is reordered.</summary>
    /// <param name="values">At least one number.</param>
    /// <param name="share">0 to 1.</param>
    public static double Quantile(Span<double> values, double share)
    {
        values.Sort();
        var place = share * (values.Length - 1);
        var below = (int)Math.Floor(place);
        var above = Math.Min(below + 1, values.Length - 1);
        return values[below] + ((place - below) * (values[above] - values[below]));
    }

    /// <summary>The middle value. The span is reordered.</summary>
    public static double Median(Span<double> values) => Quantile(values, 0.5);

    /// <summary>A spread that outliers don't move: 1.4826 times the median distance from the median, the standard deviation of normal noise. The span is overwritten.</summary>
    public static double RobustDeviation(Span<double> values)
    {
        var middle = Median(values);
        for (var i = 0; i < values.Length; i++)
        {
            values[i] = Math.Abs(values[i] - middle);
        }

        return 1.4826 * Median(values);
    }

    /// <summary>Quantiles of an image from every <paramref name="step"/>-th pixel.</summary>
    public static double[] OfImage(GreyImage image, ReadOnlySpan<double> shares, int step = 7)
    {
        var sample = new float[(image.Values.Length + step - 1) / step];
        for (var i = 0; i < sample.Length; i++)
        {
            sample[i] = image.Values[i * step];
        }

        Array.Sort(sample);
        var result = new double[shares.Length];
        for (var i = 0; i < shares.Length; i++)
        {
            result[i] = sample[(int)Math.Round(shares[i] * (sample.Length - 1), MidpointRounding.AwayFromZero)];
        }

        return result;
    }
}
