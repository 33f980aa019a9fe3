using CsCheck;
using MathNet.Numerics.LinearAlgebra;
using Secondpass.Domain.Quantities;

namespace Secondpass.Tests.Domain.Quantities;

public sealed class JoinedShareTests
{
    private static readonly Gen<(Estimate One, Estimate Other, double Common)> Agreeing =
        Gen.Select(Gen.Double[-10, 110], Gen.Double[1, 20], Gen.Double[1, 20], Gen.Double[0, 1], Gen.Double[-0.9, 0.9])
            .Select((value, first, second, common, apart) =>
            {
                var shared = common * Math.Min(first, second);
                var other = value + (apart * 1.96 * Math.Sqrt((first * first) + (second * second) - (2 * shared * shared)));
                return (Estimate.Within(value, 1.96 * first), Estimate.Within(other, 1.96 * second), shared);
            });

    // Generalised least squares with the covariance written out, solved by MathNet.Numerics.
    [Fact]
    public void Is_the_generalised_least_squares_mean_of_two_that_agree() => Agreeing.Sample(two =>
    {
        var (one, other, common) = two;
        var (first, second) = (Deviation(one), Deviation(other));
        var covariance = Matrix<double>.Build.DenseOfArray(new[,]
        {
            { (first * first) + 1e-9, common * common },
            { common * common, (second * second) + 1e-9 },
        });
        var ones = Vector<double>.Build.Dense(2, 1);
        var weights = covariance.Solve(ones);
        var variance = 1 / (ones * weights);
        var mean = variance * (weights[0] * one.Value + weights[1] * other.Value);

        var joined = JoinedShare.Of(one, other, common);

        Assert.True(joined.Agree);
        Assert.Equal(mean, joined.Percent.Value, 1e-3);
        Assert.Equal(Math.Sqrt(variance), Deviation(joined.Percent), 1e-3);
    });

    [Fact]
    public void Is_never_less_sure_than_the_surer_of_two_that_agree() => Agreeing.Sample(two =>
        Assert.True(Deviation(JoinedShare.Of(two.One, two.Other, two.Common).Percent) <= Math.Min(Deviation(two.One), Deviation(two.Other)) + 1e-9));

    [Fact]
    public void Does_not_depend_on_which_comes_first() => Agreeing.Sample(two =>
    {
        var forth = JoinedShare.Of(two.One, two.Other, two.Common);
        var back = JoinedShare.Of(two.Other, two.One, two.Common);
        Assert.Equal(forth.Percent.Value, back.Percent.Value, 1e-9);
        Assert.Equal(forth.Agree, back.Agree);
    });

    [Fact]
    public void Spans_both_where_they_contradict_each_other()
    {
        var joined = JoinedShare.Of(Estimate.Within(5, 4), Estimate.Within(60, 8), 1);

        Assert.False(joined.Agree);
        Assert.Equal((1, 68), (joined.Percent.Interval.Low, joined.Percent.Interval.High));
        Assert.InRange(joined.Percent.Value, 5, 30);
    }

    [Fact]
    public void What_both_err_by_together_is_not_evened_out()
    {
        var alike = Estimate.Within(10, 1.96 * 3);

        Assert.Equal(3 / Math.Sqrt(2), Deviation(JoinedShare.Of(alike, alike, 0).Percent), 1e-9);
        Assert.Equal(3, Deviation(JoinedShare.Of(alike, alike, 3).Percent), 1e-9);
        Assert.Equal(3, Deviation(JoinedShare.Of(alike, alike, 50).Percent), 1e-9);
    }

    [Fact]
    public void Refuses_a_negative_common_deviation() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => JoinedShare.Of(Estimate.Within(1, 1), Estimate.Within(1, 1), -0.1));

    private static double Deviation(Estimate estimate) => (estimate.Interval.High - estimate.Interval.Low) / 3.92;
}
