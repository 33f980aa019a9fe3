using System.Text.Json;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Draw;

namespace Secondpass.Outside;

/// <summary>Outlines of lesions against OpenCV's <c>contourArea</c> and <c>arcLength</c> and SciPy's <c>ConvexHull</c> and <c>pdist</c> (Debian python3-opencv, python3-scipy).</summary>
public sealed class DrawnOutlineTests
{
    [Theory]
    [InlineData(1, 6)]
    [InlineData(2, 11)]
    [InlineData(3, 40)]
    public void Area_diameters_and_way_round_are_those_of_the_reference_libraries(int seed, int count)
    {
        var random = new Random(seed);
        var points = Enumerable.Range(0, count).Select(i =>
        {
            var (y, x) = Math.SinCos(2 * Math.PI * (i + (0.4 * random.NextDouble())) / count);
            var radius = 60 + (60 * random.NextDouble());
            return new PixelPoint(300 + (1.6 * radius * x), 300 + (radius * y));
        }).ToArray();
        var film = new Radiograph(600, 600, new ushort[600 * 600], 255, FilmFormat.Png, new string('0', 64));
        var drawn = DrawnMeasurer.Measure(film, Calibration.From(0.03, CalibrationSource.Entered).Value, new DrawnShape(DrawnKind.Lesion, points, null)).Value;
        var file = Path.Combine(Path.GetTempPath(), $"secondpass-outline-{seed}-{Environment.ProcessId}.txt");
        File.WriteAllLines(file, drawn.Curve.Select(point => string.Create(CultureInfo.InvariantCulture, $"{point.X:R} {point.Y:R}")));

        var reference = JsonDocument.Parse(PythonRunner.Run("outline_measures.py", "--points", file)).RootElement;
        File.Delete(file);

        // OpenCV computes in single precision.
        Same("area", DrawnQuantity.Area, 0.03 * 0.03, 1e-4);
        Same("perimeter", DrawnQuantity.Perimeter, 0.03, 1e-4);
        Same("diameter", DrawnQuantity.LargestDiameter, 0.03, 1e-9);
        Same("across", DrawnQuantity.DiameterAcross, 0.03, 1e-9);

        void Same(string name, DrawnQuantity quantity, double unit, double share)
        {
            var expected = reference.GetProperty(name).GetDouble() * unit;
            Assert.Equal(expected, drawn.Figures.Single(figure => figure.Quantity == quantity).Value.Value, share * expected);
        }
    }
}
