using System.Text.Json;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Straighten;

namespace Secondpass.Outside;

/// <summary>The map from a film to a photograph of it against OpenCV's <c>getPerspectiveTransform</c> (Debian python3-opencv).</summary>
public sealed class PerspectiveTests
{
    [Theory]
    [InlineData(31, 41, "120 90 640 60 700 850 60 760", 9, 10)]
    [InlineData(41, 31, "10.5 20.25 900 5 850 600 90 640", 33, 4)]
    [InlineData(22, 35, "100 100 700 100 700 1050 100 1050", 11, 17.5)]
    public void A_place_of_the_film_is_seen_where_the_reference_library_sees_it(double width, double height, string corners, double x, double y)
    {
        string[] words = corners.Split(' ');
        var numbers = words.Select(word => double.Parse(word, CultureInfo.InvariantCulture)).ToArray();
        var map = PerspectiveMap.ToCorners(width, height, [.. Enumerable.Range(0, 4).Select(i => new PixelPoint(numbers[2 * i], numbers[(2 * i) + 1]))]);

        var reference = JsonDocument.Parse(PythonRunner.Run(
            "perspective.py", ["--size", Word(width), Word(height), "--corners", .. words, "--at", Word(x), Word(y)])).RootElement;

        // The corners are exact in single precision; OpenCV solves in double.
        Assert.Equal(reference.GetProperty("x").GetDouble(), map.Seen(x, y).X, 1e-6);
        Assert.Equal(reference.GetProperty("y").GetDouble(), map.Seen(x, y).Y, 1e-6);
    }

    private static string Word(double value) => value.ToString(CultureInfo.InvariantCulture);
}
