using System.Text.Json;

namespace Secondpass.Job.Documents;

/// <summary>The words by which documents name the values of an enum, such as <c>instrument_in</c>.</summary>
public static class EnumWords
{
    /// <summary>The word of a value.</summary>
    public static string Of<T>(T value)
        where T : struct, Enum => Of(value.ToString());

    /// <summary>All words of an enum, in its order.</summary>
    public static IReadOnlyList<string> All(Type words) => [.. Enum.GetNames(words).Select(Of)];

    /// <summary>The value that a word names.</summary>
    /// <param name="word">One of <see cref="All"/>, exactly as written there.</param>
    /// <param name="value">The value, when the method returns true.</param>
    public static bool TryRead<T>(string? word, out T value)
        where T : struct, Enum
    {
        foreach (var candidate in Enum.GetValues<T>())
        {
            if (Of(candidate) == word)
            {
                value = candidate;
                return true;
            }
        }

        value = default;
        return false;
    }

    private static string Of(string name) => JsonNamingPolicy.SnakeCaseLower.ConvertName(name);
}
