using System.Globalization;
using System.Text;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;

namespace Secondpass.Domain.Cases;

/// <summary>Holds what a film's file says of whom it shows against a case.</summary>
/// <remarks>Only what both say is compared: a file that names nobody differs from no case.</remarks>
public static class IdentityDifferences
{
    /// <summary>In which points a file speaks of another patient or another tooth.</summary>
    /// <param name="stated">What the file says.</param>
    /// <param name="patient">The patient of the case.</param>
    /// <param name="tooth">The tooth of the case.</param>
    /// <returns>One sentence for each point, such as "The film says patient number 12, the case 13."; empty when it speaks of no other.</returns>
    public static IReadOnlyList<string> Of(StatedIdentity stated, Patient patient, ToothNumber tooth)
    {
        ArgumentNullException.ThrowIfNull(stated);
        return
        [
            .. Of(stated, patient),
            .. stated.Teeth.Count > 0 && !stated.Teeth.Contains(tooth)
                ? [$"The film names the {string.Join(" and the ", stated.Teeth.Select(one => $"{one.Words} ({one})"))}, the case is about the {tooth.Words} ({tooth})."]
                : Array.Empty<string>(),
        ];
    }

    /// <summary>In which points a file speaks of another patient.</summary>
    /// <param name="stated">What the file says.</param>
    /// <param name="patient">The patient.</param>
    /// <returns>As for <see cref="Of(StatedIdentity, Patient, ToothNumber)"/>.</returns>
    public static IReadOnlyList<string> Of(StatedIdentity stated, Patient patient)
    {
        ArgumentNullException.ThrowIfNull(stated);
        ArgumentNullException.ThrowIfNull(patient);
        var found = new List<string>();
        if (stated.PatientNumber is { } number && !IsSameNumber(number, patient.Number))
        {
            found.Add($"The film says patient number {number}, the case {patient.Number}.");
        }

        if (stated.PatientName is { } name && patient.Name is { } known && !IsSameName(name, known))
        {
            found.Add($"The film is of “{name}”, the case of “{known}”.");
        }

        if (stated.Born is { } born && patient.Born is { } knownBorn && born != knownBorn)
        {
            found.Add(string.Create(CultureInfo.InvariantCulture, $"The film says born on {born:d MMMM yyyy}, the case on {knownBorn:d MMMM yyyy}."));
        }

        return found;
    }

    /// <summary>Whether two patient numbers are the same, whatever their capitals and the spaces around them.</summary>
    public static bool IsSameNumber(string one, string other)
    {
        ArgumentNullException.ThrowIfNull(one);
        ArgumentNullException.ThrowIfNull(other);
        return string.Equals(one.Trim(), other.Trim(), StringComparison.OrdinalIgnoreCase);
    }

    /// <summary>Whether two names may be one person's: each word of the shorter stands in the longer, in any order, an initial for a word, and at least one word whole.</summary>
    /// <remarks>Capitals and accents don't count, and ä, ae and a are one letter: sensors' programs write them in all these ways.</remarks>
    public static bool IsSameName(string one, string other)
    {
        var (shorter, longer) = (WordsOf(one), WordsOf(other));
        if (shorter.Count > longer.Count)
        {
            (shorter, longer) = (longer, shorter);
        }

        var whole = 0;
        foreach (var word in shorter.OrderByDescending(word => word.Length))
        {
            var place = longer.FindIndex(candidate => candidate == word);
            if (place >= 0)
            {
                whole += word.Length > 1 ? 1 : 0;
            }
            else
            {
                place = longer.FindIndex(candidate => (word.Length == 1 || candidate.Length == 1) && word[0] == candidate[0]);
            }

            if (place < 0)
            {
                return false;
            }

            longer.RemoveAt(place);
        }

        return whole > 0;
    }

    // Written out, because the program runs without the tables of any language.
    private static readonly Dictionary<char, string> Plain = new (string Accented, string Letter)[]
    {
        ("àáâãäåāăąæ", "a"), ("çćĉċč", "c"), ("ďđð", "d"), ("èéêëēĕėęě", "e"), ("ĝğġģ", "g"), ("ĥħ", "h"), ("ìíîïĩīĭįı", "i"), ("ĵ", "j"), ("ķ", "k"), ("ĺļľŀł", "l"),
        ("ñńņňŋ", "n"), ("òóôõöøōŏőœ", "o"), ("ŕŗř", "r"), ("śŝşšș", "s"), ("ß", "ss"), ("ţťŧț", "t"), ("þ", "th"), ("ùúûüũūŭůűų", "u"), ("ŵ", "w"), ("ýÿŷ", "y"), ("źżž", "z"),
    }.SelectMany(group => group.Accented.Select(accented => (accented, group.Letter))).ToDictionary(pair => pair.accented, pair => pair.Letter);

    private static List<string> WordsOf(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        var letters = new StringBuilder();
        foreach (var character in name.ToLowerInvariant())
        {
            letters.Append(Plain.GetValueOrDefault(character) ?? (char.IsLetterOrDigit(character) ? character.ToString() : CharUnicodeInfo.GetUnicodeCategory(character) == UnicodeCategory.NonSpacingMark ? string.Empty : " "));
        }

        var folded = letters.ToString().Replace("ae", "a", StringComparison.Ordinal).Replace("oe", "o", StringComparison.Ordinal).Replace("ue", "u", StringComparison.Ordinal);
        return [.. folded.Split(' ', StringSplitOptions.RemoveEmptyEntries)];
    }
}
