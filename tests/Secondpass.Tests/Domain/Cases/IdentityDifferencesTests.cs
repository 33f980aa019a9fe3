using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Films;

namespace Secondpass.Tests.Domain.Cases;

public sealed class IdentityDifferencesTests
{
    private static readonly ToothNumber UpperRightFirstMolar = ToothNumber.Parse("16").Value;
    private static readonly Patient Anna = new("4711", "Anna Bird") { Born = new DateOnly(1961, 3, 4) };

    [Fact]
    public void Each_point_in_which_a_film_speaks_of_another_is_a_sentence_with_both_sides() => Assert.Equal(
        [
            "The film says patient number 4712, the case 4711.",
            "The film is of “Finch, Ben”, the case of “Anna Bird”.",
            "The film says born on 5 March 1971, the case on 4 March 1961.",
            "The film names the upper left first molar (26), the case is about the upper right first molar (16).",
        ],
        IdentityDifferences.Of(new StatedIdentity("Finch, Ben", new DateOnly(1971, 3, 5), "4712", [ToothNumber.Parse("26").Value], null), Anna, UpperRightFirstMolar));

    [Fact]
    public void Only_what_both_say_is_compared()
    {
        Assert.Empty(IdentityDifferences.Of(StatedIdentity.None, Anna, UpperRightFirstMolar));
        Assert.Empty(IdentityDifferences.Of(new StatedIdentity("Finch, Ben", new DateOnly(1971, 3, 5), "4711", [], null), new Patient("4711", null), UpperRightFirstMolar));
        Assert.Empty(IdentityDifferences.Of(StatedIdentity.None with { Teeth = [ToothNumber.Parse("17").Value, UpperRightFirstMolar] }, Anna, UpperRightFirstMolar));
    }

    [Theory]
    [InlineData("Bird, Anna", "Anna Bird", true)]
    [InlineData("BIRD, ANNA", "A. Bird", true)]
    [InlineData("Bird, Anna Maria", "Bird", true)]
    [InlineData("Mueller, Joerg", "Jörg Müller", true)]
    [InlineData("Muller, Jorg", "Jörg Müller", true)]
    [InlineData("Søren", "Soren", true)]
    [InlineData("Weiß, Eva", "Weiss Eva", true)]
    [InlineData("Bird, Anna", "Bird, Ben", false)]
    [InlineData("Bird, Anna", "Anna Finch", false)]
    [InlineData("A. B.", "Anna Bird", false)]
    [InlineData("Bird, Anna", "Anna Bird-Finch", true)]
    [InlineData("Annabird", "Anna Bird", false)]
    public void A_name_is_the_same_however_it_is_written(string film, string known, bool same)
    {
        Assert.Equal(same, IdentityDifferences.IsSameName(film, known));
        Assert.Equal(same, IdentityDifferences.IsSameName(known, film));
    }

    [Theory]
    [InlineData(" b-12", "B-12", true)]
    [InlineData("012", "12", false)]
    public void A_number_is_the_same_whatever_its_capitals_and_never_without_its_zeros(string film, string known, bool same) =>
        Assert.Equal(same, IdentityDifferences.IsSameNumber(film, known));
}
