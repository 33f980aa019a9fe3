using CsCheck;
using Secondpass.Job.Cases;

namespace Secondpass.Tests.Job.Cases;

public sealed class TypedTests
{
    [Theory]
    [InlineData("1,5", 1.5)]
    [InlineData("1.5", 1.5)]
    [InlineData(" 2 ", 2.0)]
    [InlineData("-0,5", -0.5)]
    public void A_comma_and_a_dot_read_alike(string typed, double number) => Assert.Equal(number, Typed.Number("It", typed, "mm", -1, 10).Value.Value);

    [Theory]
    [InlineData("21", 0.5)]
    [InlineData("21.", 0.5)]
    [InlineData(" 21,5 ", 0.05)]
    [InlineData("-0.25", 0.005)]
    public void The_last_digit_says_how_exactly_a_number_is_known(string typed, double half) => Assert.Equal(half, Typed.HalfOfLastDigit(typed), 1e-12);

    [Theory]
    [InlineData(null)]
    [InlineData("")]
    [InlineData("  ")]
    public void Nothing_is_a_legal_answer(string? typed) => Assert.Null(Typed.Number("It", typed, "mm", 0, 10).Value.Value);

    [Theory]
    [InlineData("1.000,5", "It: “1.000,5” is not a number.")]
    [InlineData("NaN", "It: “NaN” is not a number.")]
    [InlineData("1e3", "It: “1e3” is not a number.")]
    [InlineData("11", "It: 11 mm can't be.")]
    public void Refuses_and_quotes_what_can_t_be(string typed, string reason)
    {
        var refusal = Typed.Number("It", typed, "mm", 0, 10).Refusal;

        Assert.Equal((reason, "Enter 0 to 10 mm, or leave it empty."), (refusal.Reason, refusal.Remedy));
    }

    [Fact]
    public void Any_text_gives_a_number_in_range_or_a_refusal() => Gen.String.Sample(text =>
        Typed.Number("It", text, "mm", 0, 10).TryGet(out var number, out _) == false || number.Value is null or (>= 0 and <= 10));
}
