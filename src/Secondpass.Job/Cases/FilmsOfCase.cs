using Secondpass.Domain;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Films;

namespace Secondpass.Job.Cases;

/// <summary>Whether a film is part of a case, and whether it may become so by what its file says of whom it shows.</summary>
public static class FilmsOfCase
{
    /// <summary>The code of the refusal of a film that speaks of another patient or tooth, which a reason in words lifts.</summary>
    public const string OfAnother = "film_of_another";

    /// <summary>One of a case's own films.</summary>
    /// <param name="it">The case.</param>
    /// <param name="sha256">SHA-256 of the film's file.</param>
    /// <returns>The film; or a refusal: it is not one of the case's.</returns>
    internal static Answer<CaseFilm> Own(DentalCase it, string sha256) =>
        it.Films.FirstOrDefault(film => film.Sha256 == sha256) is { } own
            ? own
            : new Refusal("film_of_another_case", "This film does not belong to the case.", "Choose one of the case's own films.");

    /// <summary>In which points a film speaks of another patient or tooth than a case, and whether all of them were confirmed before.</summary>
    /// <param name="it">The case.</param>
    /// <param name="stated">What the film's file says.</param>
    public static FilmDifferences Compare(DentalCase it, StatedIdentity stated)
    {
        ArgumentNullException.ThrowIfNull(it);
        var differences = IdentityDifferences.Of(stated, it.Patient, it.Tooth);
        var before = it.Films.LastOrDefault(film => film.Origin is { WhyAttached: not null } origin && differences.All(origin.Confirmed.Contains));
        return new FilmDifferences(differences, IdentityDifferences.Of(stated, it.Patient).Count > 0, differences.Count == 0 ? null : before?.Origin?.WhyAttached);
    }

    /// <summary>The film as it becomes part of a case.</summary>
    /// <param name="it">The case.</param>
    /// <param name="sha256">SHA-256 of its file.</param>
    /// <param name="name">The name of its file.</param>
    /// <param name="stated">What the file says.</param>
    /// <param name="taken">When it was taken, and from where.</param>
    /// <param name="said">What was said to a film that speaks of another patient or tooth.</param>
    /// <returns>The film; or a refusal: it speaks of another patient or tooth and nobody said why it belongs here.</returns>
    internal static Answer<FilmAttached> Attach(DentalCase it, string sha256, string name, StatedIdentity stated, FilmTaken taken, Confirmation said)
    {
        var found = Compare(it, stated);
        var reason = found.Sentences.Count == 0 ? null : said.To(found.Sentences) ?? found.ConfirmedBefore;
        return found.Sentences.Count > 0 && reason is null
            ? new Refusal(
                OfAnother,
                $"“{name}” is not attached yet. {string.Join(" ", found.Sentences)}",
                "If it belongs to this case all the same, say why, such as “name changed by marriage”, and attach it. Otherwise attach it to the right case.")
            : new FilmAttached(new CaseFilm(sha256, taken.Moment, taken.Shift, null)
            {
                Origin = new FilmOrigin(name, stated, found.Sentences, reason),
                DayEntered = stated.TakenAt is null ? taken.On : null,
            });
    }
}

/// <summary>When in the story a film was taken, and from where.</summary>
/// <param name="Moment">When.</param>
/// <param name="Shift">From where.</param>
public readonly record struct FilmTaken(FilmMoment Moment, TubeShift Shift)
{
    /// <summary>The day, for films whose files say none; null when nobody said it.</summary>
    public DateOnly? On { get; init; }
}

/// <summary>What was said to a film that speaks of another patient or tooth.</summary>
/// <param name="Shown">The sentences that were shown to who said it, one a line.</param>
/// <param name="Why">Why the film belongs to the case all the same, in words.</param>
public sealed record Confirmation(string? Shown, string? Why)
{
    /// <summary>Nothing was said.</summary>
    public static Confirmation None { get; } = new(null, null);

    // A reason given to other sentences, or to none, confirms nothing.
    internal string? To(IReadOnlyList<string> sentences) =>
        sentences.All((Shown ?? string.Empty).Split('\n').Select(line => line.Trim()).Contains) ? Typed.Text(Why) : null;
}

/// <summary>How a film's file differs from a case.</summary>
/// <param name="Sentences">One sentence for each point; empty when it speaks of no other patient and no other tooth.</param>
/// <param name="IsOfAnotherPatient">Whether it speaks of another patient, and not only of another tooth.</param>
/// <param name="ConfirmedBefore">Why a film that differs in the same points was attached to this case before, in words; null when none was.</param>
public sealed record FilmDifferences(IReadOnlyList<string> Sentences, bool IsOfAnotherPatient, string? ConfirmedBefore)
{
    /// <summary>Whether it has to be said why the film belongs to the case.</summary>
    public bool MustBeConfirmed => Sentences.Count > 0 && ConfirmedBefore is null;
}
