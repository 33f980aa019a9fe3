using System.Globalization;
using System.Text;

namespace Secondpass.Radiographs.Identify;

/// <summary>Text in a DICOM file's own character set (DICOM PS3.3, C.12.1.1.2).</summary>
internal static class DicomText
{
    // A person's name has at most 64 characters in each of its three forms (PS3.5, table 6.2-1); no other text here has more.
    private const int MostCharacters = 3 * 64;

    /// <summary>Text without its padding and without anything that can't be shown; null when nothing is left, or its character set isn't known.</summary>
    /// <param name="bytes">The bytes of the element.</param>
    /// <param name="characterSet">What the file says of its character set; null where it says nothing.</param>
    public static string? Read(ReadOnlySpan<byte> bytes, string? characterSet)
    {
        if (Find(characterSet) is not { } encoding)
        {
            return null;
        }

        // Four bytes are the most that one character takes.
        bytes = bytes[..Math.Min(bytes.Length, 4 * MostCharacters)];

        var text = new string([.. encoding.GetString(bytes).Where(character => !char.IsControl(character)).Take(MostCharacters)]).Trim();
        return text.Length == 0 ? null : text;
    }

    /// <summary>A person's name, family name first, of its three forms the alphabetic one, or the first that is there (PS3.5, 6.2.1).</summary>
    public static string? ReadName(ReadOnlySpan<byte> bytes, string? characterSet)
    {
        if (Read(bytes, characterSet)?.Split('=').FirstOrDefault(form => form.Any(char.IsLetterOrDigit)) is not { } form)
        {
            return null;
        }

        var parts = form.Split('^').Select(part => part.Trim()).ToArray();
        var given = string.Join(' ', parts.Skip(1).Take(2).Where(part => part.Length > 0));
        return given.Length == 0 ? parts[0] : parts[0].Length == 0 ? given : $"{parts[0]}, {given}";
    }

    /// <summary>A day written as eight digits, or with points as before 1993 (PS3.5, table 6.2-1); null when it is none.</summary>
    public static DateOnly? ReadDay(string? text) =>
        DateOnly.TryParseExact(text, ["yyyyMMdd", "yyyy.MM.dd"], CultureInfo.InvariantCulture, DateTimeStyles.None, out var day)
            ? day
            : null;

    /// <summary>A day and the time on it, as the clock on the wall showed it there: in two texts, or in one; midnight where no time is said (PS3.5, table 6.2-1).</summary>
    /// <param name="day">The day, or day and time in one.</param>
    /// <param name="time">The time, such as 091530.25; null where it stands behind the day or nowhere.</param>
    public static DateTime? ReadMoment(string? day, string? time)
    {
        // Eight digits, behind which a time may stand, or ten characters with points.
        var dayLength = Math.Min(day?.Length ?? 0, day is { Length: > 4 } && day[4] == '.' ? 10 : 8);
        if (ReadDay(day?[..dayLength]) is not { } date)
        {
            return null;
        }

        var clock = new string([.. (time ?? day![dayLength..]).Where(character => character != ':').TakeWhile(char.IsAsciiDigit)]);
        return date.ToDateTime(
            TimeOnly.TryParseExact(clock, ["HHmmss", "HHmm", "HH"], CultureInfo.InvariantCulture, DateTimeStyles.None, out var read) ? read : TimeOnly.MinValue);
    }

    // Of several sets the first that is named; with code extensions it is the one at the beginning of each text.
    private static Encoding? Find(string? characterSet) =>
        (characterSet ?? string.Empty).Split('\\')[0].Trim().Replace("ISO 2022 IR ", "ISO_IR ", StringComparison.Ordinal) switch
        {
            "" or "ISO_IR 6" or "ISO_IR 100" => Encoding.Latin1,
            "ISO_IR 192" => Encoding.UTF8,
            "ISO_IR 101" => Page("iso-8859-2"),
            "ISO_IR 109" => Page("iso-8859-3"),
            "ISO_IR 110" => Page("iso-8859-4"),
            "ISO_IR 144" => Page("iso-8859-5"),
            "ISO_IR 127" => Page("iso-8859-6"),
            "ISO_IR 126" => Page("iso-8859-7"),
            "ISO_IR 138" => Page("iso-8859-8"),
            "ISO_IR 148" => Page("iso-8859-9"),
            "ISO_IR 203" => Page("iso-8859-15"),
            "ISO_IR 166" => Page("windows-874"),
            "ISO_IR 13" => Page("shift_jis"),
            "GB18030" => Page("gb18030"),
            "GBK" => Page("gb2312"),
            _ => null,
        };

    private static Encoding? Page(string name) => CodePagesEncodingProvider.Instance.GetEncoding(name);
}
