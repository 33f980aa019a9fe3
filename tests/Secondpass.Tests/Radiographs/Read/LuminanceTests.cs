using Secondpass.Domain.Evidence;

namespace Secondpass.Tests.Radiographs.Read;

public sealed class LuminanceTests
{
    // Chromaticities (x, y) of red, green, blue and white in Recommendation ITU-R BT.709-6. The weights are the shares with
    // which the three primaries make up that white; the Recommendation rounds them to four digits.
    [Fact]
    public void The_weights_follow_from_the_primaries_and_the_white_of_BT_709()
    {
        var red = Tristimulus(0.64, 0.33);
        var green = Tristimulus(0.30, 0.60);
        var blue = Tristimulus(0.15, 0.06);
        var white = Tristimulus(0.3127, 0.3290);
        var whole = Determinant(red, green, blue);

        // Each primary's Y is 1 here, so its share of white's Y is its amount (Cramer's rule).
        Assert.Equal(FilmReading.RedWeight.Value, Math.Round(Determinant(white, green, blue) / whole, 4, MidpointRounding.AwayFromZero));
        Assert.Equal(FilmReading.GreenWeight.Value, Math.Round(Determinant(red, white, blue) / whole, 4, MidpointRounding.AwayFromZero));
        Assert.Equal(FilmReading.BlueWeight.Value, Math.Round(Determinant(red, green, white) / whole, 4, MidpointRounding.AwayFromZero));
    }

    private static (double X, double Y, double Z) Tristimulus(double x, double y) => (x / y, 1, (1 - x - y) / y);

    private static double Determinant((double X, double Y, double Z) a, (double X, double Y, double Z) b, (double X, double Y, double Z) c) =>
        (a.X * ((b.Y * c.Z) - (b.Z * c.Y))) - (b.X * ((a.Y * c.Z) - (a.Z * c.Y))) + (c.X * ((a.Y * b.Z) - (a.Z * b.Y)));
}
