using Secondpass.Domain.Evidence;

namespace Secondpass.Domain.Quantities;

/// <summary>Currencies by their three letters in ISO 4217.</summary>
public static class Currencies
{
    /// <summary>Decimals of an amount whose currency is not said.</summary>
    public const int DecimalCountWithoutCurrency = 2;

    /// <summary>All that are known, in the order of the alphabet.</summary>
    public static IReadOnlyList<string> Codes { get; } =
        [.. CurrencyFacts.WithoutDecimals.Value.Concat(CurrencyFacts.WithTwoDecimals.Value).Concat(CurrencyFacts.WithThreeDecimals.Value).Order(StringComparer.Ordinal)];

    /// <summary>How many decimals amounts in a currency have: none, two or three.</summary>
    /// <param name="code">Its three letters; null where it is not said.</param>
    public static int DecimalCountOf(string? code) =>
        code is null ? DecimalCountWithoutCurrency
        : CurrencyFacts.WithoutDecimals.Value.Contains(code) ? 0
        : CurrencyFacts.WithThreeDecimals.Value.Contains(code) ? 3
        : 2;

    /// <summary>Reads a code as typed, in large or small letters.</summary>
    /// <param name="typed">What was typed.</param>
    /// <returns>Its three letters; or a refusal that quotes what was typed.</returns>
    public static Answer<string> Read(string typed)
    {
        ArgumentNullException.ThrowIfNull(typed);
        var code = typed.Trim().ToUpperInvariant();
        return Codes.Contains(code)
            ? code
            : new Refusal(
                "currency_unknown",
                $"“{typed.Trim()}” is not a currency that is known here.",
                "Enter its three letters as banks write them, such as EUR, GBP or USD, or leave it empty.");
    }
}
