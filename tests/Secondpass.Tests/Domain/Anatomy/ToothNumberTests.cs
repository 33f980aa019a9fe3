using Secondpass.Domain.Anatomy;

namespace Secondpass.Tests.Domain.Anatomy;

public sealed class ToothNumberTests
{
    // ISO 3950:2016: 8 teeth in each of 4 permanent quadrants, 5 in each of 4 deciduous ones.
    [Fact]
    public void Knows_exactly_the_52_teeth_of_ISO_3950()
    {
        var known = Enumerable.Range(0, 100).Count(number => ToothNumber.Parse(number.ToString("00", CultureInfo.InvariantCulture)).IsGiven);

        Assert.Equal(52, known);
    }

    [Theory]
    [InlineData("16", "upper right first molar")]
    [InlineData("21", "upper left central incisor")]
    [InlineData(" 47 ", "lower right second molar")]
    [InlineData("34", "lower left first premolar")]
    [InlineData("75", "lower left deciduous second molar")]
    public void Says_the_tooth_in_words(string text, string words) =>
        Assert.Equal(words, ToothNumber.Parse(text).Value.Words);

    [Theory]
    [InlineData("3")]
    [InlineData("19")]
    [InlineData("56")]
    [InlineData("116")]
    [InlineData("1.6")]
    [InlineData("")]
    public void Refuses_what_is_no_tooth_and_quotes_it(string text)
    {
        var refusal = ToothNumber.Parse(text).Refusal;

        Assert.Equal($"“{text}” is not a tooth in the two-digit notation of ISO 3950.", refusal.Reason);
        Assert.Contains("11–18", refusal.Remedy, StringComparison.Ordinal);
    }
}
