using Microsoft.AspNetCore.Components;
using Secondpass.Domain.Cases;
using Secondpass.Job.Cases;
using Secondpass.Job.Incoming;

namespace Secondpass.App.Pages.Films;

/// <summary>New films, offered for the case that is open, or for any where none is.</summary>
public sealed partial class NewFilmList
{
    // More would push the rest of the page out of sight; the open case's own come first.
    private const int ShownAtFirst = 6;

    // A longer list is no choice: a case that was not touched for long is opened, and its films page offers the film too.
    private const int MostChoices = 40;

    /// <summary>What is offered.</summary>
    [Parameter]
    [EditorRequired]
    public OfferedFilms Offered { get; set; } = default!;

    /// <summary>The case that is open; null when none is.</summary>
    [Parameter]
    public DentalCase? Case { get; set; }

    /// <summary>The cases to choose from where none is open, the last changed first.</summary>
    [Parameter]
    public IReadOnlyList<ListedCase> Cases { get; set; } = [];

    /// <summary>What was tapped.</summary>
    [Parameter]
    [EditorRequired]
    public NewFilmForm Form { get; set; } = default!;

    /// <summary>Whether all are shown.</summary>
    [Parameter]
    public bool All { get; set; }

    /// <summary>Called when something was tapped.</summary>
    [Parameter]
    [EditorRequired]
    public EventCallback OnTap { get; set; }

    [Inject]
    private TimeProvider Time { get; set; } = default!;

    private IReadOnlyList<OfferedFilm> Shown => All ? Offered.Films : [.. Offered.Films.Take(ShownAtFirst)];

    // Those of the number that the film names come first.
    private IEnumerable<ListedCase> Choices(NewFilm film) => Cases
        .OrderByDescending(one => film.Stated.PatientNumber is { } number && IdentityDifferences.IsSameNumber(number, one.Patient.Number))
        .Take(MostChoices);
}
