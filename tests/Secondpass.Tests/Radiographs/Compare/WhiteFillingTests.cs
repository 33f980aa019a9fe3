using Secondpass.Domain.Films;
using Secondpass.Phantoms.Anatomy;
using Secondpass.Phantoms.Imaging;
using Secondpass.Phantoms.Truth;
using Secondpass.Radiographs.Pixels;

namespace Secondpass.Tests.Radiographs.Compare;

/// <summary>Sensors' programs often cut the brightest filling off to white: then the film says "at least so much".</summary>
public sealed class WhiteFillingTests
{
    [Theory]
    [InlineData(501, 0.0)]
    [InlineData(502, 0.15)]
    [InlineData(503, 0.5)]
    [InlineData(504, 1.0)]
    public void Holds_the_truth_where_the_brightest_filling_is_cut_off_to_white(int seed, double share)
    {
        var pair = Pair(seed, share);
        var truth = pair.Truth.Branch("C").Whole!;

        var whole = Assert.Single(Cut(pair, 0.3, 0.3).Branches).Whole!;

        Assert.True(
            whole.MassPercent is not { } mass || mass.Interval.Contains(truth.MassPercent),
            $"{whole.MassPercent?.Interval.Low} to {whole.MassPercent?.Interval.High} doesn't hold {truth.MassPercent}");
        Assert.True(whole.AreaPercent!.Value.Interval.Contains(truth.AreaPercent), "the truth lies in the interval of area");
    }

    [Fact]
    public void Is_less_sure_of_the_mass_the_more_of_it_is_white()
    {
        var pair = Pair(503, 0.5);

        var widths = new[] { 0.0, 0.2, 0.4 }
            .Select(cut => Cut(pair, cut, cut).Branches[0].Whole!.MassPercent!.Value.Interval)
            .Select(interval => interval.High - interval.Low)
            .ToArray();

        Assert.True(widths[0] < widths[1] && widths[1] < widths[2], string.Join(", ", widths));
    }

    [Fact]
    public void Says_which_canal_is_white()
    {
        var pair = Pair(503, 0.5);

        Assert.Contains(
            "C: part of the filling is as white as these films can show. What lies behind is reckoned from the filling's edge, and the interval is wider for it.",
            Cut(pair, 0.3, 0.3).Notices);
        Assert.DoesNotContain(Cut(pair, 0, 0).Notices, notice => notice.Contains("white", StringComparison.Ordinal));
    }

    [Fact]
    public void Gives_no_mass_where_white_hides_most_of_what_may_be_left()
    {
        var pair = Pair(504, 1.0);

        var whole = Cut(pair, 0.5, 0.5).Branches[0].Whole!;

        Assert.Null(whole.MassPercent);
        Assert.StartsWith("The film after is as white here as it can be: behind it ", whole.WhyNoMass, StringComparison.Ordinal);
        Assert.NotNull(whole.AreaPercent);
    }

    [Fact]
    public void Tells_a_film_that_was_cut_off_from_one_that_only_ends_bright()
    {
        var even = Enumerable.Range(0, 100_000).Select(i => (float)(i % 4096)).ToArray();

        Assert.Equal(float.PositiveInfinity, WhiteLimit.Of(even));
        Assert.InRange(WhiteLimit.Of([.. even.Select(value => MathF.Min(value, 3800))]), 3750, 3800);
    }

    private static PhantomPair Pair(int seed, double share) => PhantomPair.Make(seed, new PairOptions
    {
        Kind = ToothKind.LowerPremolar,
        Residual = share,
        Change = PairChange.None,
        Tooth = new ToothOptions { Splits = false },
        Exposure = new Exposure { Bits = 16, Gamma = 1, ClippedShare = 0 },
    });

    /// <summary>
    /// Both films with their scale cut off somewhere between the dentine beside the canal and the middle of its filling.
    /// </summary>
    /// <param name="pair">The pair.</param>
    /// <param name="before">How much of the filling's contrast is cut off on the film before; 0 for none.</param>
    /// <param name="after">The same on the film after.</param>
    private static Comparison Cut(PhantomPair pair, double before, double after)
    {
        var film = pair.Before.Radiograph;
        var branch = pair.Truth.Branch("C").OnBefore;
        var middle = branch.Path.At(0.5 * branch.Path.LengthPixels);
        var across = Enumerable.Range(-25, 51)
            .Select(offset => film.Pixels[((int)middle.Y * film.Width) + (int)middle.X + offset] / (double)film.GreatestValue)
            .ToArray();
        var (dentine, filling) = (across.Order().ElementAt(15), across.Max());
        return PairOfFilms.Compared(pair, CutAt(pair.Before.Radiograph, before), CutAt(pair.After.Radiograph, after));

        Radiograph CutAt(Radiograph one, double share)
        {
            var limit = share == 0 ? 1 : filling - (share * (filling - dentine));
            return PairOfFilms.Mapped(one, value => Math.Min(value, limit) / limit);
        }
    }
}
