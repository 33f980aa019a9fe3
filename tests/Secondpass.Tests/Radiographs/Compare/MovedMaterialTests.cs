using Secondpass.Domain.Films;
using Secondpass.Exchange.Wording;
using Secondpass.Phantoms.Anatomy;
using Secondpass.Phantoms.Contents;
using Secondpass.Phantoms.Truth;
using Secondpass.Radiographs.Compare;

namespace Secondpass.Tests.Radiographs.Compare;

/// <summary>Filling that was moved to where none was. Rates over many pairs: bench/, and docs/models/what-is-left.md.</summary>
public sealed class MovedMaterialTests
{
    [Theory]
    [InlineData(601)]
    [InlineData(602)]
    public void Finds_filling_that_was_pushed_beyond_the_end_with_its_size_and_place(int seed)
    {
        var plug = new MovedPlug("C", -0.9, 1.0, 0.5);
        var pair = Pair(seed, new ToothOptions { Splits = false }, plug);

        var moved = Assert.Single(PairOfFilms.Compared(pair).Moved);

        Assert.Equal(MovedTo.BeyondEnd, moved.Where);
        Assert.Equal("C", moved.Branch);
        Assert.InRange(moved.Middle.DistanceTo(Truly(pair, plug)) * Scale(pair), 0, 0.3);

        // Blur makes a patch larger; what the film before may have shown there, moved by a few pixels, makes it smaller.
        Assert.InRange(moved.AreaSquarePixels * Scale(pair) * Scale(pair), 0.5 * plug.AreaSquareMillimetres, 2 * plug.AreaSquareMillimetres);
    }

    [Fact]
    public void Tells_what_lies_between_the_old_filling_and_the_end_from_what_lies_beyond_it()
    {
        var plug = new MovedPlug("C", 1.5, 1.0, 0.5);

        var moved = Assert.Single(PairOfFilms.Compared(Pair(603, new ToothOptions { Splits = false, ShortMillimetres = 3.5 }, plug)).Moved);

        Assert.Equal(MovedTo.Deeper, moved.Where);
    }

    // Three times as long as the canal is wide: no deeper than it for all its area. Not every one is found (609 isn't); the rates stand in the docs.
    [Theory]
    [InlineData(603)]
    [InlineData(608)]
    public void Finds_a_long_piece_that_was_pushed_down_the_canal(int seed)
    {
        var plug = new MovedPlug("C", 1.6, 1.8, 0.6);

        var moved = Assert.Single(PairOfFilms.Compared(Pair(seed, new ToothOptions { Splits = false, ShortMillimetres = 3.5 }, plug)).Moved);

        Assert.Equal(MovedTo.Deeper, moved.Where);
    }

    [Fact]
    public void Finds_filling_that_was_carried_higher_up_than_the_old_filling_began()
    {
        var options = new ToothOptions { Splits = false, BelowOrificeMillimetres = 4 };
        var canal = PhantomTooth.Build(ToothKind.LowerPremolar, 604, options).Canal("C");

        var moved = Assert.Single(PairOfFilms.Compared(Pair(604, options, new MovedPlug("C", canal.EndY - canal.OrificeY - 2, 1.2, 0.6))).Moved);

        Assert.Equal(MovedTo.HigherUp, moved.Where);
    }

    [Theory]
    [InlineData(601)]
    [InlineData(605)]
    [InlineData(606)]
    public void Finds_nothing_where_nothing_was_moved(int seed) =>
        Assert.Empty(PairOfFilms.Compared(Pair(seed, new ToothOptions { Splits = false })).Moved);

    [Fact]
    public void Does_not_take_filling_that_lay_beyond_the_end_before_for_moved() =>
        Assert.Empty(PairOfFilms.Compared(PhantomPair.Make(607, new PairOptions { Kind = ToothKind.LowerPremolar, Residual = 1, Tooth = new ToothOptions { Splits = false, ShortMillimetres = -1 } })).Moved);

    [Fact]
    public void Looks_for_nothing_where_a_dressing_stands_in_the_canal()
    {
        var pair = Pair(601, new ToothOptions { Splits = false }, new MovedPlug("C", -0.9, 1.0, 0.5));

        Assert.Empty(FilmComparer.Compare(PairOfFilms.Request(pair, state: AfterState.Dressing)).Value.Moved);
    }

    [Fact]
    public void Says_size_and_place_and_that_a_film_does_not_tell_what_it_is()
    {
        var pair = Pair(601, new ToothOptions { Splits = false }, new MovedPlug("C", -0.9, 1.0, 0.5));
        var comparison = PairOfFilms.Compared(pair);

        var words = MovedWords.Of(comparison.Moved[0], comparison.Branches[0].Branch, PairOfFilms.Request(pair).BeforeScale);

        Assert.Matches(@"^C: new material beyond the end of the canal, \d\.\d–\d\.\d mm from the end, 0\.\d\d mm²$", words);
        Assert.Contains("a film doesn't tell them apart", MovedWords.MayBe, StringComparison.Ordinal);
    }

    private static PhantomPair Pair(int seed, ToothOptions tooth, params MovedPlug[] moved) =>
        PhantomPair.Make(seed, new PairOptions { Kind = ToothKind.LowerPremolar, Residual = 0.1, Tooth = tooth, Moved = _ => moved });

    private static PixelPoint Truly(PhantomPair pair, MovedPlug plug)
    {
        var (x, y, z) = plug.Middle(pair.Before.Tooth);
        return pair.Before.Geometry.Project(x, y, z);
    }

    private static double Scale(PhantomPair pair) => pair.Before.Geometry.PixelSizeAtTooth;
}
