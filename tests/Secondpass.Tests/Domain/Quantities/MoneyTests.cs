using Secondpass.Domain.Evidence;
using Secondpass.Domain.Quantities;

namespace Secondpass.Tests.Domain.Quantities;

public sealed class MoneyTests
{
    [Theory]
    [InlineData("120,50", "EUR", 12050, "EUR 120.50")]
    [InlineData("120.50", "EUR", 12050, "EUR 120.50")]
    [InlineData(" 120 ", "EUR", 12000, "EUR 120.00")]
    [InlineData("0", "EUR", 0, "EUR 0.00")]
    [InlineData("0,29", "GBP", 29, "GBP 0.29")]
    [InlineData("18000", "JPY", 18000, "JPY 18000")]
    [InlineData("36,125", "KWD", 36125, "KWD 36.125")]
    [InlineData("36,1", "KWD", 36100, "KWD 36.100")]
    [InlineData("120,5", null, 12050, "120.50 (no currency noted)")]
    [InlineData("90071992547.99", "VES", 9007199254799, "VES 90071992547.99")]
    public void An_amount_is_kept_in_the_minor_units_of_its_currency(string typed, string? currency, long minorUnits, string words)
    {
        var money = Money.Read("The fee", typed, currency).Value;

        Assert.Equal((new Money(minorUnits, currency), words), (money, money.InWords));
    }

    [Theory]
    [InlineData("120.505", "EUR", "The fee: “120.505” has more decimals than EUR has.", "Enter it with 2 decimals at most and nothing between the thousands, such as 120.50.")]
    [InlineData("1.200", "EUR", "The fee: “1.200” has more decimals than EUR has.", "Enter it with 2 decimals at most and nothing between the thousands, such as 120.50.")]
    [InlineData("1.200,50", "EUR", "The fee: “1.200,50” is not a number.", "Enter it with 2 decimals at most and nothing between the thousands, such as 120.50.")]
    [InlineData("120,5", "JPY", "The fee: “120,5” has more decimals than JPY has.", "Enter whole JPY, with nothing between the thousands, such as 12000.")]
    [InlineData("1.2345", "KWD", "The fee: “1.2345” has more decimals than KWD has.", "Enter it with 3 decimals at most and nothing between the thousands, such as 120.500.")]
    [InlineData("120.505", null, "The fee: “120.505” has more decimals than an amount has.", "Enter it with 2 decimals at most and nothing between the thousands, such as 120.50.")]
    [InlineData("-5", "EUR", "The fee: -5 can't be.", "Enter it with 2 decimals at most and nothing between the thousands, such as 120.50.")]
    [InlineData("99999999999999999999999999", "EUR", "The fee: 99999999999999999999999999 can't be.", "Enter it with 2 decimals at most and nothing between the thousands, such as 120.50.")]
    [InlineData("EUR 120", "EUR", "The fee: “EUR 120” is not a number.", "Enter it with 2 decimals at most and nothing between the thousands, such as 120.50.")]
    public void What_the_currency_does_not_have_is_refused_and_quoted(string typed, string? currency, string reason, string remedy)
    {
        var refusal = Money.Read("The fee", typed, currency).Refusal;

        Assert.Equal((reason, remedy), (refusal.Reason, refusal.Remedy));
    }

    [Theory]
    [InlineData("EUR", "EUR")]
    [InlineData(" gbp ", "GBP")]
    public void A_currency_is_known_by_its_three_letters(string typed, string code) => Assert.Equal(code, Currencies.Read(typed).Value);

    [Theory]
    [InlineData("ERU")]
    [InlineData("€")]
    [InlineData("XAU")]
    public void A_currency_that_is_not_known_is_refused_and_quoted(string typed)
    {
        var refusal = Currencies.Read(typed).Refusal;

        Assert.Equal(
            ($"“{typed}” is not a currency that is known here.", "Enter its three letters as banks write them, such as EUR, GBP or USD, or leave it empty."),
            (refusal.Reason, refusal.Remedy));
    }

    [Fact]
    public void Every_currency_has_three_letters_and_stands_in_one_list_only()
    {
        Assert.All(Currencies.Codes, code => Assert.Matches("^[A-Z]{3}$", code));
        Assert.Equal(Currencies.Codes.Distinct(), Currencies.Codes);
        Assert.Equal((0, 2, 3), (Currencies.DecimalCountOf("JPY"), Currencies.DecimalCountOf("EUR"), Currencies.DecimalCountOf("KWD")));
        Assert.Equal(Standing.Published, CurrencyFacts.WithTwoDecimals.Standing);
    }
}
