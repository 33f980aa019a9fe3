using System.Globalization;

namespace Secondpass.Domain.Anatomy;

/// <summary>A tooth by its two-digit number after ISO 3950, such as 16, always echoed in words because other notations use the same digits for other teeth.</summary>
/// <remarks>First digit: quadrant 1–4 permanent, 5–8 deciduous, seen from the patient. Second digit: 1–8, or 1–5 for deciduous teeth.</remarks>
public readonly record struct ToothNumber
{
    private static readonly string[] PermanentNames =
    [
        "central incisor", "lateral incisor", "canine", "first premolar", "second premolar",
        "first molar", "second molar", "third molar",
    ];

    private static readonly string[] DeciduousNames =
    [
        "deciduous central incisor", "deciduous lateral incisor", "deciduous canine",
        "deciduous first molar", "deciduous second molar",
    ];

    private readonly byte number;

    private ToothNumber(int number) => this.number = (byte)number;

    /// <summary>The two digits as a number, such as 16. Zero for the default value, which is no tooth.</summary>
    public int Number => number;

    /// <summary>The tooth in words from the patient's side, such as "upper right first molar".</summary>
    public string Words
    {
        get
        {
            if (number == 0)
            {
                return "no tooth";
            }

            var quadrant = number / 10;
            var position = number % 10;
            var jaw = quadrant is 1 or 2 or 5 or 6 ? "upper" : "lower";
            var side = quadrant is 1 or 4 or 5 or 8 ? "right" : "left";
            var name = quadrant <= 4 ? PermanentNames[position - 1] : DeciduousNames[position - 1];
            return $"{jaw} {side} {name}";
        }
    }

    /// <summary>Reads a tooth number.</summary>
    /// <param name="text">Two digits, such as "16"; spaces around them are ignored.</param>
    /// <returns>The tooth, or a refusal that quotes the text.</returns>
    public static Answer<ToothNumber> Parse(string? text)
    {
        var trimmed = (text ?? string.Empty).Trim();
        if (trimmed.Length == 2
            && int.TryParse(trimmed, NumberStyles.None, CultureInfo.InvariantCulture, out var read)
            && read % 10 >= 1
            && (read / 10 is >= 1 and <= 4 ? read % 10 <= 8 : read / 10 is >= 5 and <= 8 && read % 10 <= 5))
        {
            return new ToothNumber(read);
        }

        return new Refusal(
            "no_such_tooth",
            $"“{trimmed}” is not a tooth in the two-digit notation of ISO 3950.",
            "Give the quadrant and the position, such as 16 for the upper right first molar; permanent teeth are 11–18, 21–28, 31–38 and 41–48.");
    }

    /// <summary>The two digits.</summary>
    public override string ToString() => number.ToString("00", CultureInfo.InvariantCulture);
}
