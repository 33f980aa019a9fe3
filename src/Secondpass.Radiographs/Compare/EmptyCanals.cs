namespace Secondpass.Radiographs.Compare;

/// <summary>What follows from several empty canals that may be so.</summary>
internal static class EmptyCanals
{
    /// <summary>The mean canal; without any, one that is as dark as dentine.</summary>
    public static EmptyCanal Mean(IReadOnlyList<WeighedCanal> likely) => new(
        likely.Sum(each => each.Weight * each.Canal.WidenedPixels),
        likely.Sum(each => each.Weight * each.Canal.DarkPerPixel),
        likely.Sum(each => each.Weight * each.Canal.OffsetGrey));

    /// <summary>Mean and standard deviation of a figure over the canals that may be so.</summary>
    public static (double Mean, double Deviation) MeanAndDeviation(IReadOnlyList<WeighedCanal> likely, Func<EmptyCanal, double> figure)
    {
        double mean = 0, square = 0;
        foreach (var (canal, weight) in likely)
        {
            var value = figure(canal);
            mean += weight * value;
            square += weight * value * value;
        }

        return (mean, Math.Sqrt(Math.Max(0, square - (mean * mean))));
    }
}
