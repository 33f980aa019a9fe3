using Microsoft.AspNetCore.Components;
using Secondpass.App.Api;
using Secondpass.App.Pages.Cases;
using Secondpass.Domain;
using Secondpass.Domain.Cases;
using Secondpass.Job.Cases;
using Secondpass.Job.Incoming;

namespace Secondpass.App.Pages.Films;

/// <summary>New films where no case is open: each goes to the case that it names, or to one that is chosen.</summary>
public sealed partial class FilmsMenu
{
    [SupplyParameterFromForm(Name = "New", FormName = "new-films")]
    private NewFilmForm? Tapped { get; set; }

    [SupplyParameterFromForm(Name = "New", FormName = "new-films-confirmed")]
    private NewFilmForm? Confirmed { get; set; }

    [SupplyParameterFromQuery]
    private bool All { get; set; }

    [CascadingParameter]
    private HttpContext Http { get; set; } = default!;

    [Inject]
    private AttachNewFilm Attaching { get; set; } = default!;

    [Inject]
    private CaseRegister Register { get; set; } = default!;

    private NewFilmForm? New { get; set; }

    private Refusal? Refused { get; set; }

    private string? Did { get; set; }

    // The case of a film that speaks of another, while it is asked why.
    private DentalCase? Asked { get; set; }

    /// <inheritdoc/>
    protected override void OnInitialized()
    {
        New = Confirmed ?? Tapped ?? new NewFilmForm();
        Asked = Confirmed?.Sha256 is { } film && Register.Read(Confirmed.CaseOf.GetValueOrDefault(film) ?? string.Empty).TryGet(out var it, out _) ? it : null;
    }

    private void Tap()
    {
        var by = ThisDesk.Writer(Http);
        if (New!.Sha256 is not { } film)
        {
            return;
        }

        if (New.Is(NewFilmForm.Attach))
        {
            Attach(film, by);
        }
        else
        {
            var answer = New.Is(NewFilmForm.PutAside) ? Attaching.PutAside(film, by) : Attaching.TakeBack(film, by);
            Refused = answer.TryGet(out var isAside, out var refusal) ? null : refusal;
            Did = Refused is not null ? null : isAside ? "Put aside. It stands below, and can be taken back." : "Taken back.";
        }
    }

    private void Attach(string film, Writer by)
    {
        if (!(New!.CaseOf.GetValueOrDefault(film) is { Length: > 0 } id
            ? Register.Read(id)
            : new Refusal("no_case_chosen", "No case was chosen for the film; it was not attached.", "Choose its case beside it, or open the case and attach it there.")).TryGet(out var it, out var refusal))
        {
            Refused = refusal;
            return;
        }

        if (Attaching.Attach(it.Id, film, New.TakenFor(it), New.Said, by).TryGet(out var now, out refusal))
        {
            Did = $"Attached to the case of patient {now.Patient.Number}, {now.Tooth.Words}, {CaseWords.Of(now.Films[^1])}.";
            Asked = null;
            New = new NewFilmForm { Moment = New.Moment, Shift = New.Shift };
            return;
        }

        Refused = refusal;
        Asked = null;
        if (refusal.Code == FilmsOfCase.OfAnother)
        {
            Asked = it;
            New.Shown = Attaching.Differences(it, film);
        }
    }
}
