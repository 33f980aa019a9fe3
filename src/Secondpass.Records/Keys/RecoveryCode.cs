using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using Secondpass.Domain;

namespace Secondpass.Records.Keys;

/// <summary>A key of 256 bits as 13 groups of five characters that a person can read, write down and type.</summary>
/// <remarks>
/// Four characters of a group carry 20 bits, from an alphabet of 32 without I, L, O and U; the fifth checks the group
/// and its place. It is a weighted sum in the field of 32 elements, the weights being different powers of a generator,
/// as in a code after Reed and Solomon (J Soc Ind Appl Math 1960;8:300–304): a single wrong character, two neighbours
/// exchanged, and two groups exchanged all show.
/// </remarks>
internal static partial class RecoveryCode
{
    /// <summary>How many groups a key has.</summary>
    public const int Groups = 13;

    private const string Alphabet = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
    private const int CharactersInGroup = 4;
    private const int BitsInCharacter = 5;

    // x^5 + x^2 + 1, primitive over GF(2): x generates all 31 elements that are not zero.
    private const int Polynomial = 0b100101;

    /// <summary>The groups of a key.</summary>
    /// <param name="key">32 bytes.</param>
    public static IReadOnlyList<string> Write(ReadOnlySpan<byte> key)
    {
        var bits = new System.Numerics.BigInteger(key, isUnsigned: true, isBigEndian: true) << PadBits;
        var values = new int[Groups * CharactersInGroup];
        for (var place = values.Length - 1; place >= 0; place--)
        {
            values[place] = (int)(bits & 31);
            bits >>= BitsInCharacter;
        }

        return [.. values.Chunk(CharactersInGroup).Select((four, group) =>
            string.Concat(four.Append(Check(four, group)).Select(value => Alphabet[value])))];
    }

    /// <summary>Reads a key from groups as written or typed: capital or small, O for 0, I or L for 1; lines that hold anything else are skipped.</summary>
    /// <param name="text">A whole recovery sheet, or its groups alone, numbered or not.</param>
    /// <returns>32 bytes; or a refusal that names the group that was misread.</returns>
    public static Answer<byte[]> Read(string text)
    {
        var groups = text.Split('\n').SelectMany(GroupsOfLine).ToArray();
        if (groups.Length != Groups)
        {
            return new Refusal(
                "recovery_groups_missing",
                string.Create(CultureInfo.InvariantCulture, $"There are {groups.Length} groups of five characters; a recovery sheet has {Groups}."),
                "Type all groups in the order of their numbers, each on a line of its own or with spaces between.");
        }

        var bits = System.Numerics.BigInteger.Zero;
        for (var group = 0; group < Groups; group++)
        {
            var values = groups[group].Select(character => Alphabet.IndexOf(character, StringComparison.Ordinal)).ToArray();
            if (Check(values.AsSpan(0, CharactersInGroup), group) != values[CharactersInGroup])
            {
                return new Refusal(
                    "recovery_group_wrong",
                    string.Create(CultureInfo.InvariantCulture, $"Group {group + 1}, “{groups[group]}”, is misread or stands in the wrong place: its last character doesn't fit."),
                    "Compare this group with the sheet, character by character.",
                    new Dictionary<string, double> { ["group"] = group + 1 });
            }

            foreach (var value in values[..CharactersInGroup])
            {
                bits = (bits << BitsInCharacter) | value;
            }
        }

        var bytes = (bits >> PadBits).ToByteArray(isUnsigned: true, isBigEndian: true);
        var key = new byte[KeyBytes];
        bytes.CopyTo(key, KeyBytes - bytes.Length);
        return key;
    }

    private const int KeyBytes = 32;
    private const int PadBits = (Groups * CharactersInGroup * BitsInCharacter) - (KeyBytes * 8);

    private static IEnumerable<string> GroupsOfLine(string line)
    {
        var words = line.Split((char[])[' ', '\t', '\r'], StringSplitOptions.RemoveEmptyEntries)
            .Where(word => !Number().IsMatch(word))
            .Select(word => new StringBuilder(word.ToUpperInvariant()).Replace('O', '0').Replace('I', '1').Replace('L', '1').ToString())
            .ToArray();
        return words.All(word => word.Length == CharactersInGroup + 1 && word.All(character => Alphabet.Contains(character, StringComparison.Ordinal))) ? words : [];
    }

    private static int Check(ReadOnlySpan<int> values, int group)
    {
        // Weights x^1 … x^4 on the characters and x^5 on the group's place; the check character has weight 1.
        var sum = Times(group + 1, CharactersInGroup + 1);
        for (var place = 0; place < values.Length; place++)
        {
            sum ^= Times(values[place], place + 1);
        }

        return sum;
    }

    private static int Times(int value, int power)
    {
        for (var step = 0; step < power; step++)
        {
            value <<= 1;
            if (value > 31)
            {
                value ^= Polynomial;
            }
        }

        return value;
    }

    // The number before a group: 1 or 12, with a dot or a colon behind it or not.
    [GeneratedRegex(@"^\d{1,2}[.:]?$")]
    private static partial Regex Number();
}
