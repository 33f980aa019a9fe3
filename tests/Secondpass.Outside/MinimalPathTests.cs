using System.Text.Json;
using Secondpass.Radiographs.Trace;

namespace Secondpass.Outside;

/// <summary>The cheapest path against <c>skimage.graph.route_through_array</c> of scikit-image (Debian python3-skimage).</summary>
public sealed class MinimalPathTests
{
    [Theory]
    [InlineData(1, 40, 60)]
    [InlineData(2, 64, 64)]
    [InlineData(3, 7, 90)]
    public void Costs_what_the_reference_library_s_path_costs(int seed, int width, int height)
    {
        var random = new Random(seed);
        var cost = Enumerable.Range(0, width * height).Select(_ => (float)(0.05 + Math.Pow(random.NextDouble(), 3))).ToArray();
        var file = Path.Combine(Path.GetTempPath(), $"secondpass-cost-{seed}-{Environment.ProcessId}.txt");
        File.WriteAllLines(file, Enumerable.Range(0, height).Select(y =>
            string.Join(' ', cost.AsSpan(y * width, width).ToArray().Select(value => value.ToString("R", CultureInfo.InvariantCulture)))));
        (int X, int Y) from = (1, 2);
        (int X, int Y) to = (width - 2, height - 3);

        var (pixels, total) = MinimalPath.Find(cost, width, height, from, to);
        var reference = JsonDocument.Parse(PythonRunner.Run("route_through_array.py", "--cost", file, "--start", Text(from.X), Text(from.Y), "--end", Text(to.X), Text(to.Y))).RootElement;
        File.Delete(file);

        // Single precision over some hundred steps.
        Assert.Equal(reference.GetProperty("cost").GetDouble(), total, 1e-3);
        Assert.Equal(from, pixels[0]);
        Assert.Equal(to, pixels[^1]);
        Assert.All(pixels.Zip(pixels.Skip(1)), step => Assert.True(Math.Abs(step.First.X - step.Second.X) <= 1 && Math.Abs(step.First.Y - step.Second.Y) <= 1));
    }

    private static string Text(int number) => number.ToString(CultureInfo.InvariantCulture);
}
