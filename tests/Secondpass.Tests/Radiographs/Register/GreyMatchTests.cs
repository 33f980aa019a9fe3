using Secondpass.Radiographs.Pixels;
using Secondpass.Radiographs.Register;

namespace Secondpass.Tests.Radiographs.Register;

public sealed class GreyMatchTests
{
    [Theory]
    [InlineData(1.0, 1.0)]
    [InlineData(0.6, 1.6)]
    [InlineData(1.6, 0.6)]
    public void Finds_the_curve_between_two_gammas_even_beyond_the_greys_it_saw(double gammaAfter, double gammaBefore)
    {
        // Only dentine and bone, 0.2 to 0.6 of the range, are alike on both films; fillings at 0.85 are not seen by the fit.
        double After(double u) => 4095 * Math.Pow(u, gammaAfter);
        double Before(double u) => 4095 * Math.Pow(0.05 + (0.9 * u), gammaBefore);
        var pairs = Enumerable.Range(0, 6000).Select(i => 0.2 + (0.4 * i / 6000)).Select(u => ((float)After(u), (float)Before(u))).ToArray();

        var match = GreyMatch.Fit(pairs, new GreyRange(0, 4095), new GreyRange(0, 4095));

        Assert.InRange(match.Of(After(0.4)) - Before(0.4), -12, 12);
        Assert.InRange(match.Of(After(0.85)) - Before(0.85), -130, 130);
    }

    [Fact]
    public void Isn_t_moved_by_a_crown_that_came_off()
    {
        var random = new Random(3);
        var pairs = Enumerable.Range(0, 8000)
            .Select(i => (After: (float)(800 + (1500 * random.NextDouble())), Gone: i % 5 == 0))
            .Select(p => (p.After, p.Gone ? 3900f : (1.2f * p.After) - 100))
            .ToArray();

        var match = GreyMatch.Fit(pairs, new GreyRange(0, 4095), new GreyRange(0, 4095));

        Assert.InRange(match.Of(1500) - 1700, -25, 25);
    }

    /// <summary>The law of errors in both variables: noise that both films have alike must not take contrast from either.</summary>
    [Theory]
    [InlineData(50)]
    [InlineData(150)]
    public void Is_not_flattened_by_noise_that_both_films_have(double noiseGrey)
    {
        var random = new Random(5);
        double Noise() => noiseGrey * Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(Math.Tau * random.NextDouble());
        var pairs = Enumerable.Range(0, 40000)
            .Select(_ => 800 + (1800 * random.NextDouble()))
            .Select(grey => ((float)(grey + Noise()), (float)(grey + Noise())))
            .ToArray();

        var match = GreyMatch.Fit(pairs, new GreyRange(0, 4095), new GreyRange(0, 4095));

        Assert.InRange((match.Of(2300) - match.Of(1100)) / 1200, 0.99, 1.01);
    }
}
