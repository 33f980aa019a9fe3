using Secondpass.Phantoms.Anatomy;
using Secondpass.Phantoms.Imaging;
using Secondpass.Phantoms.Truth;
using Secondpass.Radiographs.Compare;
using Secondpass.Radiographs.Pixels;

namespace Secondpass.Tests.Radiographs.Compare;

/// <summary>How a film's greys are bent, against closed forms and films whose scale is known.</summary>
public sealed class CharacteristicCurveTests
{
    [Theory]
    [InlineData(-1.0)]
    [InlineData(0.0)]
    [InlineData(0.7)]
    [InlineData(0.96)]
    public void Keeps_a_film_s_darkest_and_brightest_and_the_order_of_greys(double bend)
    {
        var curve = new CharacteristicCurve(bend, new GreyRange(100, 4000));

        Assert.Equal(100, curve.Of(100), 1e-9);
        Assert.Equal(4000, curve.Of(4000), 1e-9);
        Assert.All(Enumerable.Range(10, 380), step => Assert.True(curve.Of(10 * (step + 1)) > curve.Of(10 * step)));
    }

    // Lambert and Beer: behind thickness t of a substance e^(−μt) of the beam is left, and a film of the signal shows 1 − e^(−μt).
    [Fact]
    public void Makes_a_film_of_the_signal_grow_evenly_with_thickness()
    {
        const double Thickest = 2.5;
        var most = 1 - Math.Exp(-Thickest);
        var curve = new CharacteristicCurve(most, new GreyRange(0, most));

        Assert.All(Enumerable.Range(0, 26), step =>
        {
            var thickness = step / 10.0;
            Assert.Equal(most * thickness / Thickest, curve.Of(1 - Math.Exp(-thickness)), 1e-9);
        });
    }

    [Fact]
    public void Its_slope_is_that_of_its_closed_form()
    {
        var curve = new CharacteristicCurve(0.9, new GreyRange(0, 1));

        // d/dx of ln(1 − 0.9 x) / ln(0.1) at 0.5.
        Assert.Equal(0.9 / (1 - 0.45) / Math.Log(10), curve.SlopeAt(0.5), 1e-3);
    }

    [Fact]
    public void The_share_left_hardly_depends_on_what_the_sensor_s_program_shows()
    {
        // Weighed on the films' own greys these teeth are read 2.0 to 3.9 points apart.
        foreach (var seed in (ReadOnlySpan<int>)[745, 746, 749])
        {
            var found = Enum.GetValues<GreyScale>().Select(scale => Mass(seed, scale)).ToArray();

            Assert.InRange(found.Max() - found.Min(), 0, 1.5);
        }
    }

    private static double Mass(int seed, GreyScale scale) =>
        PairOfFilms.Compared(PhantomPair.Make(seed, new PairOptions
        {
            Kind = ToothKind.LowerPremolar,
            Residual = 0.4,
            Exposure = new Exposure { Scale = scale, Gamma = 1 },
            Change = PairChange.None,
        })).Branches[0].Whole!.MassPercent!.Value.Value;
}
