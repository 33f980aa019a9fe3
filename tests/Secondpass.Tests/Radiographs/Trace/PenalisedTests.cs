using Secondpass.Radiographs.Trace;

namespace Secondpass.Tests.Radiographs.Trace;

public sealed class PenalisedTests
{
    [Fact]
    public void Leaves_a_straight_row_as_it_is_and_bridges_what_has_no_weight()
    {
        var values = Enumerable.Range(0, 40).Select(i => 3 + (0.5 * i)).ToArray();
        var weights = values.Select((_, i) => i is > 10 and < 25 ? 0.0 : 1.0).ToArray();
        var spoilt = values.Select((value, i) => i is > 10 and < 25 ? 1000 : value).ToArray();

        var smooth = Penalised.Smooth(spoilt, weights, 50);

        Assert.All(smooth.Zip(values), pair => Assert.Equal(pair.Second, pair.First, 1e-4));
    }

    // The dense normal equations are the definition of the smoother.
    [Fact]
    public void Solves_the_normal_equations()
    {
        var random = new Random(5);
        var values = Enumerable.Range(0, 25).Select(_ => random.NextDouble()).ToArray();
        var weights = values.Select(_ => 0.2 + random.NextDouble()).ToArray();
        var n = values.Length;
        var matrix = MathNet.Numerics.LinearAlgebra.Matrix<double>.Build.DenseDiagonal(n, n, i => weights[i] + 1e-9);
        for (var i = 1; i < n - 1; i++)
        {
            var bend = MathNet.Numerics.LinearAlgebra.Vector<double>.Build.Dense(n, k => k == i ? -2 : Math.Abs(k - i) == 1 ? 1 : 0);
            matrix += 7 * bend.OuterProduct(bend);
        }

        var exact = matrix.Solve(MathNet.Numerics.LinearAlgebra.Vector<double>.Build.Dense(n, i => weights[i] * values[i]));

        Assert.All(Penalised.Smooth(values, weights, 7).Zip(exact), pair => Assert.Equal(pair.Second, pair.First, 1e-9));
    }
}
