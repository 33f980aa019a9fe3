using Secondpass.Domain;
using Secondpass.Domain.Cases;
using Secondpass.Records;

namespace Secondpass.Job.Cases;

/// <summary>A film of the case gets the day on which it was taken, where its file says none or a wrong one.</summary>
/// <param name="store">Where it is kept.</param>
/// <param name="time">The clock.</param>
public sealed class DateFilm(ClinicStore store, TimeProvider time)
{
    /// <summary>Takes a day as a film's own.</summary>
    /// <param name="id">The case.</param>
    /// <param name="version">The version that the page was filled from.</param>
    /// <param name="filmSha256">The film, one of the case's.</param>
    /// <param name="typed">The day as typed; empty takes back what was entered before.</param>
    /// <param name="by">Who says so.</param>
    /// <returns>The case; or a refusal: a film of another case, no day or one that is still to come (quoted), changed meanwhile.</returns>
    public Answer<DentalCase> Enter(CaseId id, long version, string filmSha256, string? typed, Writer by)
    {
        ArgumentNullException.ThrowIfNull(by);
        return store.Cases.Read(id).TryGet(out var it, out var refusal) && FilmsOfCase.Own(it, filmSha256).TryGet(out _, out refusal) && Day(typed).TryGet(out var day, out refusal)
            ? store.Cases.Append(id, version, by.Author, [new FilmDated(filmSha256, day.Value)])
            : refusal;
    }

    /// <summary>Reads the day on which films were taken.</summary>
    /// <param name="typed">What was typed or chosen: year, month and day.</param>
    /// <returns>The day, or null in it when nothing was typed; or a refusal that quotes what was typed: no day, or one that is still to come.</returns>
    public Answer<TypedDay> Day(string? typed)
    {
        if (!Typed.Day(Field, typed).TryGet(out var day, out var refusal))
        {
            return refusal;
        }

        return day.Value > DateOnly.FromDateTime(time.GetLocalNow().DateTime)
            ? new Refusal("day_to_come", $"{Field}: “{Typed.Text(typed)}” is still to come.", "Enter the day on which the film was taken: year, month and day, such as 2025-11-07, or leave it empty.")
            : day;
    }

    private const string Field = "The film’s date";
}
