using CsCheck;
using Secondpass.Domain.Cases;

namespace Secondpass.Tests.Domain.Cases;

public sealed class ParallaxReadingTests
{
    // Worked out by projection and not by the rule: x runs distally, z towards the cheek, the film stands at z = 0 on the lingual side.
    // A point at (x, z) of a tube at (tube, 300 mm) falls on the film at x + (x − tube) · z / (300 − z).
    [Fact]
    public void Agrees_with_where_points_fall_on_a_film_when_the_tube_is_shifted() =>
        Gen.Select(Gen.Double[4, 20], Gen.Double[4, 20], Gen.Int[0, 2].Select(number => (TubeShift)number), Gen.Int[0, 2].Select(number => (TubeShift)number))
            .Where((thing, other, first, second) => Math.Abs(thing - other) > 0.1 && first != second)
            .Sample((thing, other, first, second) =>
            {
                var moved = (OnFilm(thing, second) - OnFilm(other, second)) - (OnFilm(thing, first) - OnFilm(other, first));
                var reading = new ParallaxReading("it", "MB1", first, second, moved > 0 ? Movement.Distal : Movement.Mesial);

                Assert.Equal(thing > other ? ParallaxSide.Buccal : ParallaxSide.Lingual, reading.Side().Value);
            });

    [Fact]
    public void What_does_not_move_lies_in_the_same_plane() =>
        Assert.Equal(ParallaxSide.SamePlane, new ParallaxReading("it", "MB1", TubeShift.Straight, TubeShift.Distal, Movement.None).Side().Value);

    [Theory]
    [InlineData(TubeShift.Straight, "Both films are entered with the tube straight; without a shift nothing tells buccal from lingual.")]
    [InlineData(TubeShift.Mesial, "Both films are entered with the tube shifted mesially; without a shift nothing tells buccal from lingual.")]
    public void Refuses_two_films_with_the_tube_alike(TubeShift shift, string reason)
    {
        var refusal = new ParallaxReading("it", "MB1", shift, shift, Movement.Mesial).Side().Refusal;

        Assert.Equal(("tube_not_shifted", reason), (refusal.Code, refusal.Reason));
        Assert.Equal("Enter how the tube stood on each of the two films, or choose two that differ.", refusal.Remedy);
    }

    private static double OnFilm(double depth, TubeShift shift)
    {
        var tube = shift switch { TubeShift.Mesial => -60.0, TubeShift.Distal => 60.0, _ => 0.0 };
        return -tube * depth / (300 - depth);
    }
}
