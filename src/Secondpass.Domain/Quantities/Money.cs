using System.Globalization;

namespace Secondpass.Domain.Quantities;

/// <summary>An amount of money in the currency that it was told in. It is never converted: another currency is another amount.</summary>
/// <param name="MinorUnits">The amount in minor units, such as cents; in whole units where the currency has no minor one (<see cref="Currencies.DecimalCountOf"/>).</param>
/// <param name="CurrencyCode">Its currency in three letters of ISO 4217; null where none was set when it was noted, and then it counts in hundredths.</param>
public sealed record Money(long MinorUnits, string? CurrencyCode)
{
    /// <summary>The amount alone, such as "120.50".</summary>
    public string Amount
    {
        get
        {
            var decimals = Currencies.DecimalCountOf(CurrencyCode);
            return (MinorUnits / OneIn(decimals)).ToString(string.Create(CultureInfo.InvariantCulture, $"F{decimals}"), CultureInfo.InvariantCulture);
        }
    }

    /// <summary>The amount with its currency, such as "EUR 120.50"; without one it says so.</summary>
    public string InWords => CurrencyCode is null ? $"{Amount} (no currency noted)" : $"{CurrencyCode} {Amount}";

    /// <summary>Reads an amount as typed; 120,50 and 120.50 read alike.</summary>
    /// <param name="field">What the amount is, as it begins a sentence.</param>
    /// <param name="typed">What was typed; not empty.</param>
    /// <param name="currencyCode">The currency that it is in; null where none is set.</param>
    /// <returns>The amount; or a refusal that quotes what was typed: no number, below nothing, more decimals than the currency has.</returns>
    public static Answer<Money> Read(string field, string typed, string? currencyCode)
    {
        ArgumentNullException.ThrowIfNull(typed);
        const decimal Most = 1_000_000_000_000;
        var text = typed.Trim();
        var decimals = Currencies.DecimalCountOf(currencyCode);
        var remedy = decimals == 0
            ? $"Enter whole {currencyCode}, with nothing between the thousands, such as 12000."
            : string.Create(CultureInfo.InvariantCulture, $"Enter it with {decimals} decimals at most and nothing between the thousands, such as {new Money((long)(120.5m * OneIn(decimals)), currencyCode).Amount}.");
        var pointed = text.Replace(',', '.');
        if (!decimal.TryParse(pointed, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var amount))
        {
            return new Refusal("not_a_number", $"{field}: “{text}” is not a number.", remedy);
        }

        if (amount is < 0 or > Most)
        {
            return new Refusal("out_of_range", $"{field}: {text} can't be.", remedy);
        }

        // As typed, so that 1.200 is never taken for twelve hundred or for 1.20.
        return pointed.Contains('.', StringComparison.Ordinal) && pointed.Length - 1 - pointed.IndexOf('.', StringComparison.Ordinal) > decimals
            ? new Refusal("too_many_decimals", $"{field}: “{text}” has more decimals than {(currencyCode is null ? "an amount" : currencyCode)} has.", remedy)
            : new Money((long)(amount * OneIn(decimals)), currencyCode);
    }

    private static decimal OneIn(int decimals) => decimals switch
    {
        0 => 1m,
        3 => 1000m,
        _ => 100m,
    };
}
