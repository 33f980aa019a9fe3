using System.Globalization;
using Secondpass.Domain;
using Secondpass.Domain.Quantities;

namespace Secondpass.Job.Cases;

/// <summary>Reads what was typed into a field; 1,5 and 1.5 read alike, and nothing is a legal answer.</summary>
public static class Typed
{
    /// <summary>Text without spaces around it; null for nothing.</summary>
    public static string? Text(string? typed) => string.IsNullOrWhiteSpace(typed) ? null : typed.Trim();

    /// <summary>A number.</summary>
    /// <param name="field">What the number is, as it begins a sentence, such as "The level of the split".</param>
    /// <param name="typed">What was typed.</param>
    /// <param name="unit">Its unit; empty for none.</param>
    /// <param name="least">The least that makes sense.</param>
    /// <param name="most">The most that makes sense.</param>
    /// <returns>The number, or null in it when nothing was typed; or a refusal that quotes what was typed.</returns>
    public static Answer<TypedNumber> Number(string field, string? typed, string unit, double least, double most)
    {
        if (Text(typed) is not { } text)
        {
            return new TypedNumber(null);
        }

        if (!double.TryParse(text.Replace(',', '.'), NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var number)
            || !double.IsFinite(number))
        {
            return new Refusal("not_a_number", $"{field}: “{text}” is not a number.", Between(unit, least, most));
        }

        return number < least || number > most
            ? new Refusal("out_of_range", $"{field}: {WithUnit(text, unit)} can't be.", Between(unit, least, most))
            : new TypedNumber(number);
    }

    /// <summary>A length in millimetres.</summary>
    /// <inheritdoc cref="Number" path="/param"/>
    public static Answer<TypedLength> Millimetres(string field, string? typed, double least, double most) =>
        Number(field, typed, "mm", least, most).TryGet(out var number, out var refusal)
            ? new TypedLength(number.Value is { } value ? new Millimetres(value) : null)
            : refusal;

    /// <summary>How far a number may lie from what was typed: half of its last digit, so 0.5 for "21" and 0.05 for "21,0".</summary>
    /// <param name="typed">What was typed and read as a number.</param>
    public static double HalfOfLastDigit(string typed)
    {
        var text = typed.Trim().Replace(',', '.');
        return 0.5 * Math.Pow(10, text.Contains('.', StringComparison.Ordinal) ? text.IndexOf('.', StringComparison.Ordinal) - text.Length + 1 : 0);
    }

    /// <summary>A day.</summary>
    /// <param name="field">What the day is, as it begins a sentence, such as "The date of birth".</param>
    /// <param name="typed">What was typed or chosen: year, month and day, such as 1961-03-04.</param>
    /// <returns>The day, or null in it when nothing was typed; or a refusal that quotes what was typed.</returns>
    public static Answer<TypedDay> Day(string field, string? typed)
    {
        if (Text(typed) is not { } text)
        {
            return new TypedDay(null);
        }

        return DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day) && day.Year >= EarliestYear
            ? new TypedDay(day)
            : new Refusal("not_a_day", $"{field}: “{text}” is not a day that can be.", "Enter year, month and day, such as 1961-03-04, or leave it empty.");
    }

    // Nobody who is treated was born before it.
    private const int EarliestYear = 1880;

    private static string Between(string unit, double least, double most) =>
        $"Enter {WithUnit(string.Create(CultureInfo.InvariantCulture, $"{least:0.##} to {most:0.##}"), unit)}, or leave it empty.";

    private static string WithUnit(string number, string unit) => $"{number} {unit}".TrimEnd();
}

/// <summary>A number that was typed; null when nothing was.</summary>
/// <param name="Value">The number.</param>
public readonly record struct TypedNumber(double? Value);

/// <summary>A length that was typed; null when nothing was.</summary>
/// <param name="Value">The length.</param>
public readonly record struct TypedLength(Millimetres? Value);

/// <summary>A day that was typed; null when nothing was.</summary>
/// <param name="Value">The day.</param>
public readonly record struct TypedDay(DateOnly? Value);
