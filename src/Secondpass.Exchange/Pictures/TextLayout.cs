using System.Globalization;
using System.Text;
using System.Xml;
using SkiaSharp;

namespace Secondpass.Exchange.Pictures;

/// <summary>Measures and breaks lines of text in the embedded font.</summary>
internal static class TextLayout
{
    private const string Ellipsis = "…";

    private static readonly string[] Units = ["mm", "ml", "min"];

    /// <summary>Width of a line of text.</summary>
    /// <param name="text">The text.</param>
    /// <param name="size">Size of the letters; the answer is in the same unit.</param>
    /// <param name="bold">Whether it is bold.</param>
    /// <param name="narrow">Whether it is set in the narrow typeface.</param>
    public static double Width(string text, double size, bool bold, bool narrow = false)
    {
        // Measured large and scaled down: hinting at small sizes would round every letter.
        const float measured = 1000;
        using var font = new SKFont(EmbeddedFont.Typeface(bold, narrow), measured) { Subpixel = true, Hinting = SKFontHinting.None };
        return font.MeasureText(text) * size / measured;
    }

    /// <summary>Breaks text into lines at spaces; a number is not parted from its unit.</summary>
    /// <param name="text">The text.</param>
    /// <param name="size">Size of the letters.</param>
    /// <param name="bold">Whether it is bold.</param>
    /// <param name="width">Greatest width of a line, in the unit of <paramref name="size"/>.</param>
    /// <param name="firstIndent">How much shorter the first line is.</param>
    /// <param name="greatestLines">At most so many lines, at least 1; the last one is cut with an ellipsis where there would be more.</param>
    /// <param name="narrow">Whether it is set in the narrow typeface.</param>
    public static List<string> Wrap(
        string text, double size, bool bold, double width, double firstIndent = 0, int greatestLines = int.MaxValue, bool narrow = false)
    {
        var lines = new List<string>();
        var line = string.Empty;
        foreach (var word in Unbroken(text))
        {
            var longer = line.Length == 0 ? word : line + " " + word;
            var room = width - (lines.Count == 0 ? firstIndent : 0);
            if (line.Length > 0 && Width(longer, size, bold, narrow) > room)
            {
                lines.Add(line);
                line = word;
            }
            else
            {
                line = longer;
            }
        }

        lines.Add(line);
        if (lines.Count > greatestLines)
        {
            lines[greatestLines - 1] = string.Join(' ', lines.Skip(greatestLines - 1));
            lines.RemoveRange(greatestLines, lines.Count - greatestLines);
        }

        return [.. lines.Select((found, index) => Fit(found, size, bold, width - (index == 0 ? firstIndent : 0), narrow))];
    }

    /// <summary>The text itself where it fits, else its beginning with an ellipsis.</summary>
    public static string Fit(string text, double size, bool bold, double width, bool narrow = false)
    {
        if (Width(text, size, bold, narrow) <= width)
        {
            return text;
        }

        var elements = StringInfo.ParseCombiningCharacters(text);
        var (fits, tooMany) = (0, elements.Length);
        while (tooMany - fits > 1)
        {
            var half = (fits + tooMany) / 2;
            if (Width(text[..elements[half]] + Ellipsis, size, bold, narrow) <= width)
            {
                fits = half;
            }
            else
            {
                tooMany = half;
            }
        }

        return text[..elements[fits]] + Ellipsis;
    }

    /// <summary>The text without control characters, broken surrogates and runs of spaces: what every painter can write.</summary>
    public static string Plain(string text)
    {
        var plain = new StringBuilder(text.Length);
        foreach (var rune in text.EnumerateRunes())
        {
            var blank = Rune.IsControl(rune) || Rune.IsWhiteSpace(rune);
            if (!blank)
            {
                plain.Append(rune.IsBmp && !XmlConvert.IsXmlChar((char)rune.Value) ? Rune.ReplacementChar.ToString() : rune.ToString());
            }
            else if (plain.Length > 0 && plain[^1] != ' ')
            {
                plain.Append(' ');
            }
        }

        return plain.ToString().TrimEnd();
    }

    private static IEnumerable<string> Unbroken(string text)
    {
        var words = text.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        for (var i = 0; i < words.Length; i++)
        {
            var word = words[i];
            while (i + 1 < words.Length && char.IsDigit(word[^1]) && IsUnit(words[i + 1]))
            {
                word += " " + words[++i];
            }

            yield return word;
        }
    }

    private static bool IsUnit(string word) => word[0] == '%' || Units.Any(unit => word.StartsWith(unit, StringComparison.Ordinal));
}
