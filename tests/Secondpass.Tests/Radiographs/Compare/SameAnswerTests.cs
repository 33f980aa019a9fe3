using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;
using Secondpass.Phantoms.Anatomy;
using Secondpass.Phantoms.Truth;
using Secondpass.Radiographs.Compare;

namespace Secondpass.Tests.Radiographs.Compare;

/// <summary>What must not change the answer: laws that hold without knowing the truth.</summary>
public sealed class SameAnswerTests
{
    /// <summary>
    /// How far a share may move when the films are only shown otherwise, as a part of the width of its 95 % interval:
    /// a move of a tenth is lost in what the answer itself says that it doesn't know.
    /// </summary>
    private const double Tolerance = 0.1;

    private static readonly Lazy<(PhantomPair Pair, Comparison Answer)> Usual = new(() =>
    {
        var pair = PhantomPair.Make(701, new PairOptions { Kind = ToothKind.LowerPremolar, Residual = 0.35 });
        return (pair, PairOfFilms.Compared(pair));
    });

    [Theory]
    [InlineData(ToothKind.UpperIncisor)]
    [InlineData(ToothKind.LowerMolar)]
    [InlineData(ToothKind.UpperMolar)]
    public void A_film_with_itself_is_all_there_at_no_shift(ToothKind kind)
    {
        var pair = PhantomPair.Make(702, new PairOptions { Kind = kind });

        foreach (var branch in PairOfFilms.Compared(pair, after: pair.Before.Radiograph).Branches)
        {
            // Half of what is shown: whole percents.
            Assert.InRange(branch.Whole!.MassPercent!.Value.Value, 99.5, 100.5);
            Assert.InRange(branch.Whole.AreaPercent!.Value.Value, 99.9, 100.0);
            Assert.All(branch.Displacements, moved => Assert.InRange(double.Hypot(moved.Dx, moved.Dy), 0, 0.3));
        }
    }

    [Theory]
    [InlineData(711, 0.6, 1.3)]
    [InlineData(712, 1.5, 0.8)]
    public void The_same_tooth_exposed_again_is_all_there_within_its_interval(int seed, double exposure, double gamma)
    {
        var pair = PhantomPair.Make(seed, new PairOptions { Untouched = true, Change = PairChange.None with { ExposureFactor = exposure, Gamma = gamma } });

        foreach (var branch in PairOfFilms.Compared(pair).Branches)
        {
            Assert.True(branch.Whole!.MassPercent!.Value.Interval.Contains(100), $"mass {branch.Whole.MassPercent.Value}");
            Assert.InRange(branch.Whole.AreaPercent!.Value.Value, 97, 100);
        }
    }

    [Fact]
    public void Inverting_both_films_changes_nothing()
    {
        var pair = Usual.Value.Pair;

        Same(PairOfFilms.Compared(pair, PairOfFilms.Mapped(pair.Before.Radiograph, v => 1 - v), PairOfFilms.Mapped(pair.After.Radiograph, v => 1 - v)));
    }

    [Fact]
    public void Inverting_one_film_changes_nothing_and_is_told()
    {
        var pair = Usual.Value.Pair;
        var inverted = PairOfFilms.Compared(pair, after: PairOfFilms.Mapped(pair.After.Radiograph, v => 1 - v));

        Same(inverted);
        Assert.True(inverted.Registration.InvertedAfter);
        Assert.False(Usual.Value.Answer.Registration.InvertedAfter);
    }

    /// <summary>
    /// A gamma on both films bends the scale that mass is read on, and nothing on the films tells it apart from another film:
    /// the answer may move, but not out of its interval, and area less than mass.
    /// </summary>
    [Theory]
    [InlineData(0.6)]
    [InlineData(0.8)]
    [InlineData(1.25)]
    [InlineData(1.6)]
    public void A_gamma_on_both_films_moves_nothing_out_of_its_interval(double gamma)
    {
        var (pair, usual) = Usual.Value;

        var bent = PairOfFilms.Compared(
            pair,
            PairOfFilms.Mapped(pair.Before.Radiograph, v => Math.Pow(v, gamma)),
            PairOfFilms.Mapped(pair.After.Radiograph, v => Math.Pow(v, gamma)));

        foreach (var (one, other) in usual.Branches.Zip(bent.Branches))
        {
            Assert.True(one.Whole!.MassPercent!.Value.Interval.Contains(other.Whole!.MassPercent!.Value.Value), $"{one.Whole.MassPercent.Value} became {other.Whole.MassPercent.Value}");
            Assert.True(one.Whole.AreaPercent!.Value.Interval.Contains(other.Whole.AreaPercent!.Value.Value));
        }
    }

    [Fact]
    public void A_gamma_and_a_contrast_on_the_film_after_alone_change_nothing_beyond_tolerance()
    {
        var pair = Usual.Value.Pair;

        Same(PairOfFilms.Compared(pair, after: PairOfFilms.Mapped(pair.After.Radiograph, v => 0.1 + (0.7 * Math.Pow(v, 1.4)))));
    }

    [Fact]
    public void Cropping_the_film_after_changes_nothing_beyond_tolerance()
    {
        var pair = Usual.Value.Pair;

        Same(PairOfFilms.Compared(pair, after: PairOfFilms.Cropped(pair.After.Radiograph, 60, 40, 50, 90)));
    }

    [Fact]
    public void Turning_both_films_by_a_quarter_changes_nothing_beyond_tolerance()
    {
        var pair = Usual.Value.Pair;
        var height = pair.Before.Radiograph.Height;
        CanalClicks Turned(CanalClicks clicks) => clicks with
        {
            Pins = [.. clicks.Pins.Select(pin => pin with { At = new PixelPoint(height - 1 - pin.At.Y, pin.At.X) })],
            Branches = [.. clicks.Branches.Select(Turned)],
        };
        var request = PairOfFilms.Request(
            pair,
            PairOfFilms.QuarterTurned(pair.Before.Radiograph),
            PairOfFilms.QuarterTurned(pair.After.Radiograph));

        Same(FilmComparer.Compare(request with { Canals = [.. request.Canals.Select(Turned)] }).Value);
    }

    [Fact]
    public void Less_residue_never_reads_as_more()
    {
        double[] shares = [0.05, 0.3, 0.6, 0.95];

        var masses = shares.Select(share => PairOfFilms.Compared(PhantomPair.Make(721, new PairOptions { Kind = ToothKind.UpperIncisor, Residual = share, Tooth = new ToothOptions { ShortMillimetres = 1 } }))
            .Branches[0].Whole!.MassPercent!.Value.Value).ToArray();

        Assert.Equal(masses.Order(), masses);
    }

    private static void Same(Comparison other)
    {
        foreach (var (one, again) in Usual.Value.Answer.Branches.Zip(other.Branches))
        {
            SameWithinTolerance(one.Whole!.MassPercent!.Value, again.Whole!.MassPercent!.Value);
            SameWithinTolerance(one.Whole.AreaPercent!.Value, again.Whole.AreaPercent!.Value);
        }
    }

    private static void SameWithinTolerance(Estimate one, Estimate again)
    {
        var most = Tolerance * one.Interval.Width;
        Assert.InRange(again.Value - one.Value, -most, most);
    }
}
