namespace Secondpass.Radiographs.Pixels;

/// <summary>Does the same for several things at once, on as many cores as there are.</summary>
internal static class SideBySide
{
    /// <summary>Works on each.</summary>
    /// <param name="each">What to work on.</param>
    /// <param name="work">The work; it must not depend on that of another.</param>
    /// <returns>Results in the order of what was given.</returns>
    public static TResult[] Each<T, TResult>(IReadOnlyList<T> each, Func<T, TResult> work)
    {
        var results = new TResult[each.Count];
        Parallel.For(0, results.Length, i => results[i] = work(each[i]));
        return results;
    }
}
