namespace Secondpass.Job.Documents;

/// <summary>Finds the known word that a mistyped one was probably meant to be.</summary>
public static class NearestWord
{
    /// <summary>The nearest known word, or null when none is near.</summary>
    /// <param name="word">What was written.</param>
    /// <param name="known">The words that exist.</param>
    /// <remarks>
    /// Distance counts letters put in, left out, changed, or swapped with their neighbour, small and capital letters alike.
    /// Near is a distance of at most a third of the longer word, and at least one letter.
    /// </remarks>
    public static string? Of(string word, IEnumerable<string> known)
    {
        ArgumentNullException.ThrowIfNull(word);
        ArgumentNullException.ThrowIfNull(known);
        return known
            .Select(candidate => (Word: candidate, Distance: Distance(word.ToUpperInvariant(), candidate.ToUpperInvariant())))
            .Where(candidate => candidate.Distance <= Math.Max(1, Math.Max(word.Length, candidate.Word.Length) / 3))
            .OrderBy(candidate => candidate.Distance)
            .Select(candidate => candidate.Word)
            .FirstOrDefault();
    }

    // Optimal string alignment: each letter takes part in one edit at most.
    private static int Distance(string from, string to)
    {
        var distances = new int[from.Length + 1, to.Length + 1];
        for (var i = 0; i <= from.Length; i++)
        {
            for (var j = 0; j <= to.Length; j++)
            {
                distances[i, j] = (i, j) switch
                {
                    (0, _) => j,
                    (_, 0) => i,
                    _ => Math.Min(
                        Math.Min(distances[i - 1, j], distances[i, j - 1]) + 1,
                        distances[i - 1, j - 1] + (from[i - 1] == to[j - 1] ? 0 : 1)),
                };
                if (i > 1 && j > 1 && from[i - 1] == to[j - 2] && from[i - 2] == to[j - 1])
                {
                    distances[i, j] = Math.Min(distances[i, j], distances[i - 2, j - 2] + 1);
                }
            }
        }

        return distances[from.Length, to.Length];
    }
}
