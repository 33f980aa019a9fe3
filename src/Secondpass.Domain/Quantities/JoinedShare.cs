namespace Secondpass.Domain.Quantities;

/// <summary>One share out of two estimates of it.</summary>
/// <param name="Percent">The share with its 95 % interval, in percent.</param>
/// <param name="Agree">Whether the two differ by no more than their own errors explain, at 95 %.</param>
public readonly record struct JoinedShare(Estimate Percent, bool Agree)
{
    private const double DeviationsInInterval = 1.96;

    /// <summary>
    /// The mean weighed by the inverse of each one's own variance. What both err by together is not evened out. Where they differ
    /// by more than their own errors explain, the interval spans both, so that a contradiction never looks like certainty.
    /// </summary>
    /// <param name="firstPercent">An estimate in percent; its interval is taken as 3.92 standard deviations wide.</param>
    /// <param name="secondPercent">Another of the same share.</param>
    /// <param name="commonPercent">Standard deviation of what both err by together, in percentage points, not negative; no more than the surer one's is taken, which then counts alone.</param>
    /// <exception cref="ArgumentOutOfRangeException">The common deviation is negative.</exception>
    public static JoinedShare Of(Estimate firstPercent, Estimate secondPercent, double commonPercent)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(commonPercent);
        var (first, second) = (DeviationOf(firstPercent), DeviationOf(secondPercent));
        var common = Math.Min(commonPercent, Math.Min(first, second));
        var (ownFirst, ownSecond) = (OwnVariance(first, common), OwnVariance(second, common));
        var apart = Math.Abs(firstPercent.Value - secondPercent.Value);
        var both = ownFirst + ownSecond;
        var weight = both > 0 ? ownSecond / both : 0.5;
        var value = (weight * firstPercent.Value) + ((1 - weight) * secondPercent.Value);
        if (apart > DeviationsInInterval * Math.Sqrt(both))
        {
            var spans = new Interval(Math.Min(firstPercent.Interval.Low, secondPercent.Interval.Low), Math.Max(firstPercent.Interval.High, secondPercent.Interval.High));
            return new JoinedShare(new Estimate(value, spans), Agree: false);
        }

        var deviation = Math.Sqrt((weight * ownFirst) + (common * common));
        return new JoinedShare(Estimate.Within(value, DeviationsInInterval * deviation), Agree: true);
    }

    private static double DeviationOf(Estimate estimate) => (estimate.Interval.High - estimate.Interval.Low) / (2 * DeviationsInInterval);

    private static double OwnVariance(double deviation, double common) => Math.Max(0, (deviation * deviation) - (common * common));
}
