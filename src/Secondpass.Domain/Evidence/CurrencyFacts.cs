namespace Secondpass.Domain.Evidence;

/// <summary>The currencies of countries, by how many decimals their amounts have. Funds, metals and test codes are left out.</summary>
/// <remarks>
/// A table of our own, as money is kept in minor units: what an operating system knows of currencies follows its own update and differs
/// from the standard in places. A code that is here once stays, for amounts that were noted in it.
/// </remarks>
public static class CurrencyFacts
{
    private const string Source = "ISO 4217:2015, list one of its maintenance agency, held against a copy of 2024; XCG and ZWG, which came later, from memory";

    /// <summary>Currencies whose amounts are whole.</summary>
    public static Sourced<IReadOnlyList<string>> WithoutDecimals { get; } = new(
        "Currencies written without decimals",
        [
            "BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG", "RWF", "UGX", "VND", "VUV", "XAF", "XOF", "XPF",
        ],
        "codes",
        null,
        Source,
        Standing.Published);

    /// <summary>Currencies whose amounts have two decimals.</summary>
    public static Sourced<IReadOnlyList<string>> WithTwoDecimals { get; } = new(
        "Currencies written with two decimals",
        [
            "AED", "AFN", "ALL", "AMD", "AOA", "ARS", "AUD", "AWG", "AZN", "BAM", "BBD", "BDT", "BGN", "BMD", "BND", "BOB", "BRL", "BSD", "BTN", "BWP",
            "BYN", "BZD", "CAD", "CDF", "CHF", "CNY", "COP", "CRC", "CUP", "CVE", "CZK", "DKK", "DOP", "DZD", "EGP", "ERN", "ETB", "EUR", "FJD", "FKP",
            "GBP", "GEL", "GHS", "GIP", "GMD", "GTQ", "GYD", "HKD", "HNL", "HTG", "HUF", "IDR", "ILS", "INR", "IRR", "JMD", "KES", "KGS", "KHR", "KPW",
            "KYD", "KZT", "LAK", "LBP", "LKR", "LRD", "LSL", "MAD", "MDL", "MGA", "MKD", "MMK", "MNT", "MOP", "MRU", "MUR", "MVR", "MWK", "MXN", "MYR",
            "MZN", "NAD", "NGN", "NIO", "NOK", "NPR", "NZD", "PAB", "PEN", "PGK", "PHP", "PKR", "PLN", "QAR", "RON", "RSD", "RUB", "SAR", "SBD", "SCR",
            "SDG", "SEK", "SGD", "SHP", "SLE", "SOS", "SRD", "SSP", "STN", "SVC", "SYP", "SZL", "THB", "TJS", "TMT", "TOP", "TRY", "TTD", "TWD", "TZS",
            "UAH", "USD", "UYU", "UZS", "VED", "VES", "WST", "XCD", "XCG", "YER", "ZAR", "ZMW", "ZWG",
        ],
        "codes",
        null,
        Source,
        Standing.Published);

    /// <summary>Currencies whose amounts have three decimals.</summary>
    public static Sourced<IReadOnlyList<string>> WithThreeDecimals { get; } = new(
        "Currencies written with three decimals",
        ["BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"],
        "codes",
        null,
        Source,
        Standing.Published);
}
