namespace Secondpass.Domain.Cases;

/// <summary>Which of a case's films was taken first.</summary>
public static class FilmOrder
{
    /// <summary>Whether a film was taken before another, as far as dates tell, and as their moments in the story do where they don't.</summary>
    /// <param name="one">The film.</param>
    /// <param name="other">The other.</param>
    /// <returns>True when it was, false when it was taken after the other; null when it isn't known.</returns>
    public static bool? IsEarlier(CaseFilm one, CaseFilm other)
    {
        ArgumentNullException.ThrowIfNull(one);
        ArgumentNullException.ThrowIfNull(other);
        return IsEarlierByDate(one, other) ?? (one.Moment == other.Moment ? null : one.Moment < other.Moment);
    }

    /// <summary>Films in the order in which they were taken, those together of which it is known.</summary>
    /// <param name="films">The films, in the order in which they were attached.</param>
    /// <returns>The films; each follows the one before it, or which of the two is earlier isn't known.</returns>
    internal static IReadOnlyList<OrderedFilm> Of(IReadOnlyList<CaseFilm> films) =>
        Sorted(films, IsEarlier)

        // Dates and moments may contradict each other all around; dates alone never do.
        ?? Sorted(films, IsEarlierByDate)!;

    private static bool? IsEarlierByDate(CaseFilm one, CaseFilm other) => (one.Taken, other.Taken) switch
    {
        ({ } first, { } second) when first.Date != second.Date => first < second,

        // On one day only the time tells, and midnight stands for none.
        ({ TimeOfDay.Ticks: > 0 } first, { TimeOfDay.Ticks: > 0 } second) when first != second => first < second,
        _ => null,
    };

    // Of the films that no other one goes before, one that is known to follow the last comes first: nothing that is known is torn apart.
    private static List<OrderedFilm>? Sorted(IReadOnlyList<CaseFilm> films, Func<CaseFilm, CaseFilm, bool?> isEarlier)
    {
        var left = films.OrderBy(film => film.Moment).ToList();
        var sorted = new List<OrderedFilm>();
        while (left.Count > 0)
        {
            var free = left.Where(film => !left.Any(other => isEarlier(other, film) == true)).ToList();
            if (free.Count == 0)
            {
                return null;
            }

            var follows = sorted.Count == 0 ? null : free.Find(film => isEarlier(sorted[^1].Film, film) == true);
            sorted.Add(new OrderedFilm(follows ?? free[0], follows is not null));
            left.Remove(sorted[^1].Film);
        }

        return sorted;
    }
}

/// <summary>A film among others.</summary>
/// <param name="Film">The film.</param>
/// <param name="Follows">Whether it is known that it was taken after the one before it.</param>
internal readonly record struct OrderedFilm(CaseFilm Film, bool Follows);
