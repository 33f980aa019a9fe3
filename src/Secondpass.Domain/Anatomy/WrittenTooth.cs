using System.Globalization;

namespace Secondpass.Domain.Anatomy;

/// <summary>A tooth as somebody wrote it, and how that was understood.</summary>
/// <param name="Tooth">The tooth.</param>
/// <param name="Notation">The notation in which the text names it.</param>
public readonly record struct WrittenTooth(ToothNumber Tooth, ToothNotation Notation)
{
    private const string UniversalLetters = "ABCDEFGHIJKLMNOPQRST";
    private const string Positions = "ABCDE";

    private static readonly (string Letters, int Permanent, int Deciduous)[] Quadrants = [("UR", 1, 5), ("UL", 2, 6), ("LL", 3, 7), ("LR", 4, 8)];

    /// <summary>Reads a tooth as it was typed: first in the notation that the clinic chose, then in the others.</summary>
    /// <remarks>A reading in another notation than the chosen one is a guess that somebody must confirm.</remarks>
    /// <param name="text">What was typed, such as 16, 1.6, 3, UR6 or A; spaces and the case of letters don't matter.</param>
    /// <param name="chosen">The notation that the clinic chose.</param>
    /// <returns>The tooth and the notation it was read in; or a refusal that quotes the text.</returns>
    public static Answer<WrittenTooth> Read(string? text, ToothNotation chosen)
    {
        foreach (var notation in Enum.GetValues<ToothNotation>().OrderByDescending(notation => notation == chosen))
        {
            if (In(notation, text) is { } tooth)
            {
                return new WrittenTooth(tooth, notation);
            }
        }

        return new Refusal(
            "no_such_tooth",
            $"“{(text ?? string.Empty).Trim()}” is not a tooth in any notation known here.",
            $"Write it like {new WrittenTooth(Example, chosen).Text}, the {Example.Words}. Permanent teeth of ISO 3950 are 11–18, 21–28, 31–38 and 41–48.");
    }

    /// <summary>The other teeth that the same text means in the notations that were not chosen.</summary>
    /// <param name="text">What was typed.</param>
    /// <param name="chosen">The notation it is read in.</param>
    public static IReadOnlyList<WrittenTooth> Elsewhere(string? text, ToothNotation chosen) =>
    [
        .. Enum.GetValues<ToothNotation>()
            .Where(notation => notation != chosen)
            .Select(notation => (notation, tooth: In(notation, text)))
            .Where(other => other.tooth is { } tooth && tooth != In(chosen, text))
            .Select(other => new WrittenTooth(other.tooth!.Value, other.notation)),
    ];

    /// <summary>The tooth as it is written in <see cref="Notation"/>, such as 16, 3 or UR6.</summary>
    public string Text
    {
        get
        {
            var (quadrant, position) = (Tooth.Number / 10, Tooth.Number % 10);
            var isDeciduous = quadrant > 4;
            switch (Notation)
            {
                case ToothNotation.QuadrantLetters:
                    var letters = Quadrants.Single(one => quadrant == one.Permanent || quadrant == one.Deciduous).Letters;
                    return letters + (isDeciduous ? Positions[position - 1].ToString() : position.ToString(CultureInfo.InvariantCulture));
                case ToothNotation.Universal:
                    var perQuadrant = isDeciduous ? 5 : 8;
                    var turn = (quadrant - 1) % 4;
                    var place = (turn * perQuadrant) + (turn is 0 or 2 ? perQuadrant - position : position - 1);
                    return isDeciduous ? UniversalLetters[place].ToString() : (place + 1).ToString(CultureInfo.InvariantCulture);
                default:
                    return Tooth.ToString();
            }
        }
    }

    /// <summary>The notation in words.</summary>
    public static string NameOf(ToothNotation notation) => notation switch
    {
        ToothNotation.Universal => "Universal 1–32",
        ToothNotation.QuadrantLetters => "quadrant letters",
        _ => "ISO 3950",
    };

    private static ToothNumber Example => ToothNumber.Parse("16").Value;

    private static ToothNumber? In(ToothNotation notation, string? text)
    {
        var plain = (text ?? string.Empty).Replace(" ", string.Empty, StringComparison.Ordinal).Trim().ToUpperInvariant();
        return notation switch
        {
            ToothNotation.Iso3950 => Iso(plain.Length == 3 && plain[1] is '.' or '-' ? plain.Remove(1, 1) : plain),
            ToothNotation.Universal => FromUniversal(plain.TrimStart('#')),
            _ => FromLetters(plain),
        };
    }

    private static ToothNumber? Iso(string digits) => ToothNumber.Parse(digits).TryGet(out var tooth, out _) ? tooth : null;

    private static ToothNumber? FromUniversal(string plain)
    {
        if (plain.Length == 1 && UniversalLetters.IndexOf(plain[0], StringComparison.Ordinal) is >= 0 and var letter)
        {
            return Iso(Digits(letter, 5, 5));
        }

        return int.TryParse(plain, NumberStyles.None, CultureInfo.InvariantCulture, out var number) && number is >= 1 and <= 32
            ? Iso(Digits(number - 1, 8, 1))
            : null;

        static string Digits(int place, int perQuadrant, int firstQuadrant)
        {
            var turn = place / perQuadrant;
            var position = turn is 0 or 2 ? perQuadrant - (place % perQuadrant) : (place % perQuadrant) + 1;
            return string.Create(CultureInfo.InvariantCulture, $"{turn + firstQuadrant}{position}");
        }
    }

    private static ToothNumber? FromLetters(string plain)
    {
        if (plain.Length != 3 || Quadrants.FirstOrDefault(one => plain.StartsWith(one.Letters, StringComparison.Ordinal)) is not { Letters: not null } quadrant)
        {
            return null;
        }

        var deciduous = Positions.IndexOf(plain[2], StringComparison.Ordinal);
        return deciduous >= 0
            ? Iso(string.Create(CultureInfo.InvariantCulture, $"{quadrant.Deciduous}{deciduous + 1}"))
            : Iso(string.Create(CultureInfo.InvariantCulture, $"{quadrant.Permanent}{plain[2]}"));
    }
}
