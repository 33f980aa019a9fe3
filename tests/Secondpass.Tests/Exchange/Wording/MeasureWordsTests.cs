using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;
using Secondpass.Exchange.Wording;

namespace Secondpass.Tests.Exchange.Wording;

public sealed class MeasureWordsTests
{
    [Theory]
    [InlineData(1.34, "1.3 mm short of the canal end")]
    [InlineData(-0.8, "0.8 mm beyond the canal end")]
    [InlineData(0.04, "at the canal end")]
    [InlineData(-0.04, "at the canal end")]
    [InlineData(0, "at the canal end")]
    public void Says_where_the_filling_ends(double millimetres, string words) =>
        Assert.Equal(words, MeasureWords.FillingEnd(new Millimetres(millimetres)));

    [Fact]
    public void Says_a_share_of_the_length_where_there_is_no_scale()
    {
        var branch = InventedComparison.Branch(InventedComparison.Plain);
        var noScale = branch with { Measures = branch.Measures with { Length = null, FilledLength = null, FillingEndToCanalEnd = null } };

        Assert.Equal("filled over 85 % of its length; no scale", MeasureWords.Line(noScale));
    }

    [Fact]
    public void Says_that_no_filling_is_seen()
    {
        var branch = InventedComparison.Branch(InventedComparison.Plain);
        var unfilled = branch with { Filling = new FillingProfile([], null, null), Measures = branch.Measures with { FillingEndToCanalEnd = null, FilledPercent = 0 } };

        Assert.Equal("15.3 mm long; no filling seen", MeasureWords.Line(unfilled));
    }

    [Theory]
    [InlineData(CalibrationSource.File, "0.0125 mm per pixel, from the film's file")]
    [InlineData(CalibrationSource.KnownLength, "0.0125 mm per pixel, from an object of known length on the film")]
    [InlineData(CalibrationSource.Entered, "0.0125 mm per pixel, as entered")]
    public void Says_where_the_scale_comes_from(CalibrationSource source, string words) =>
        Assert.Equal(words, FilmWords.Scale(Calibration.From(0.0125, source).Value));

    [Fact]
    public void Says_that_there_is_no_scale() =>
        Assert.Equal("no scale: lengths in pixels, areas in square pixels", FilmWords.Scale(null));

    [Fact]
    public void Has_words_for_every_state_of_the_film_after()
    {
        var words = Enum.GetValues<AfterState>().Select(FilmWords.State).ToList();

        Assert.Equal(words.Count, words.Distinct().Count());
        Assert.Contains("instrument in the canal", words);
    }
}
