using Secondpass.Domain.Anatomy;

namespace Secondpass.Tests.Domain.Anatomy;

public sealed class WrittenToothTests
{
    public static TheoryData<ToothNotation> Notations { get; } = [.. Enum.GetValues<ToothNotation>()];

    private static IEnumerable<ToothNumber> AllTeeth => Enumerable.Range(11, 75)
        .Select(number => ToothNumber.Parse(number.ToString(CultureInfo.InvariantCulture)))
        .Where(answer => answer.IsGiven)
        .Select(answer => answer.Value);

    [Theory]
    [MemberData(nameof(Notations))]
    public void What_is_written_in_a_notation_is_read_back_in_it(ToothNotation notation) => Assert.All(AllTeeth, tooth =>
    {
        var read = WrittenTooth.Read(new WrittenTooth(tooth, notation).Text, notation).Value;

        Assert.Equal((tooth, notation), (read.Tooth, read.Notation));
    });

    [Theory]
    [MemberData(nameof(Notations))]
    public void No_two_teeth_are_written_alike_in_one_notation(ToothNotation notation) =>
        Assert.Equal(52, AllTeeth.Select(tooth => new WrittenTooth(tooth, notation).Text).Distinct().Count());

    // The Universal numbers run 1–16 from the upper right third molar to the upper left one, 17–32 from the lower left one back to the
    // lower right one; letters A–T run the same way round the deciduous teeth. Common practice, no source.
    [Theory]
    [InlineData("1", "18")]
    [InlineData("3", "16")]
    [InlineData("8", "11")]
    [InlineData("9", "21")]
    [InlineData("16", "28")]
    [InlineData("17", "38")]
    [InlineData("24", "31")]
    [InlineData("25", "41")]
    [InlineData("32", "48")]
    [InlineData("#30", "46")]
    [InlineData("A", "55")]
    [InlineData("J", "65")]
    [InlineData("K", "75")]
    [InlineData("t", "85")]
    public void Reads_universal_numbers(string text, string iso) => Assert.Equal(iso, WrittenTooth.Read(text, ToothNotation.Universal).Value.Tooth.ToString());

    [Theory]
    [InlineData("UR6", "16")]
    [InlineData("ul1", "21")]
    [InlineData("LL 4", "34")]
    [InlineData("LR8", "48")]
    [InlineData("LRE", "85")]
    public void Reads_quadrant_letters(string text, string iso) => Assert.Equal(iso, WrittenTooth.Read(text, ToothNotation.QuadrantLetters).Value.Tooth.ToString());

    [Theory]
    [InlineData("1.6")]
    [InlineData("1-6")]
    [InlineData(" 16 ")]
    public void Reads_ISO_3950_with_a_dot_or_a_dash(string text) => Assert.Equal("16", WrittenTooth.Read(text, ToothNotation.Iso3950).Value.Tooth.ToString());

    [Fact]
    public void The_same_digits_are_another_tooth_in_another_notation()
    {
        Assert.Equal("upper right first molar", WrittenTooth.Read("16", ToothNotation.Iso3950).Value.Tooth.Words);
        Assert.Equal("upper left third molar", WrittenTooth.Read("16", ToothNotation.Universal).Value.Tooth.Words);
        Assert.Equal("28", Assert.Single(WrittenTooth.Elsewhere("16", ToothNotation.Iso3950)).Tooth.ToString());
    }

    [Fact]
    public void Says_in_which_notation_it_was_read_when_it_is_not_the_chosen_one() =>
        Assert.Equal(ToothNotation.Universal, WrittenTooth.Read("3", ToothNotation.Iso3950).Value.Notation);

    [Theory]
    [InlineData("")]
    [InlineData("99")]
    [InlineData("UR9")]
    [InlineData("XX1")]
    [InlineData("U")]
    [InlineData("sixteen")]
    [InlineData("-3")]
    public void Refuses_what_is_no_tooth_in_any_notation(string text)
    {
        var refusal = WrittenTooth.Read(text, ToothNotation.QuadrantLetters).Refusal;

        Assert.Equal("no_such_tooth", refusal.Code);
        Assert.Equal($"“{text}” is not a tooth in any notation known here.", refusal.Reason);
        Assert.Equal("Write it like UR6, the upper right first molar. Permanent teeth of ISO 3950 are 11–18, 21–28, 31–38 and 41–48.", refusal.Remedy);
    }
}
