using Microsoft.AspNetCore.Components;
using Secondpass.App.Pages.Films;
using Secondpass.Domain.Cases;
using Secondpass.Job.Cases;
using Secondpass.Job.Incoming;

namespace Secondpass.App.Pages.Cases;

/// <summary>The films and photographs of a case, and what two films with the tube shifted tell.</summary>
public sealed partial class FilmsPage
{
    [SupplyParameterFromForm(FormName = "film")]
    private FilmForm? Film { get; set; }

    [SupplyParameterFromForm(Name = "New", FormName = "new-films")]
    private NewFilmForm? Tapped { get; set; }

    [SupplyParameterFromForm(Name = "New", FormName = "new-films-confirmed")]
    private NewFilmForm? Confirmed { get; set; }

    [SupplyParameterFromQuery]
    private bool All { get; set; }

    // Each film has a form of its own.
    [SupplyParameterFromForm(Name = "Dated")]
    private DateForm? Dated { get; set; }

    [SupplyParameterFromForm(FormName = "parallax")]
    private ParallaxForm? Seen { get; set; }

    [SupplyParameterFromForm(FormName = "photograph")]
    private PhotographForm? Photo { get; set; }

    [Inject]
    private AttachFilm Attaching { get; set; } = default!;

    [Inject]
    private DateFilm Dating { get; set; } = default!;

    [Inject]
    private AttachNewFilm Incoming { get; set; } = default!;

    [Inject]
    private ReadScan Reading { get; set; } = default!;

    private NewFilmForm? New { get; set; }

    // The form of a film that speaks of another patient or tooth, while it is asked why it belongs here.
    private string? AsksFor { get; set; }

    /// <inheritdoc/>
    protected override void Fill(DentalCase it)
    {
        New = Confirmed ?? Tapped ?? new NewFilmForm();
        AsksFor = Confirmed is null ? null : "new-films";
        Dated ??= new DateForm();
        Film ??= new FilmForm { Version = it.Version };
        Seen ??= new ParallaxForm { Version = it.Version, Second = TubeShift.Mesial };
        Photo ??= new PhotographForm { Version = it.Version };
    }

    private void DateIt() => Dated!.Version = Done(Dating.Enter(Case!.Id, Dated.Version, Dated.Film ?? string.Empty, Dated.Day, By), Dated.Version);

    private async Task AttachFilms()
    {
        if (!Dating.Day(Film!.On).TryGet(out var day, out var noDay))
        {
            Refused = noDay;
            return;
        }

        var sent = Attaching.TakeInEach(await AllSent("films"));
        Film.Ready.AddRange(sent.Ready.Where(one => Film.Ready.All(known => known.Sha256 != one.Sha256)).Select(one => new ReadyFields { Sha256 = one.Sha256, Name = one.Name }));
        if (sent.Refused is not null)
        {
            Refused = sent.Refused;
            return;
        }

        var ready = Film.Ready.Select(one => new ReadyFilm(one.Sha256 ?? string.Empty, one.Name ?? string.Empty)).ToList();
        Film.Version = Done(Attaching.Attach(Case!.Id, Film.Version, ready, new FilmTaken(Film.Moment, Film.Shift) { On = day.Value }, new Confirmation(Film.Shown, Film.Why), By), Film.Version);
        if (Refused?.Code == FilmsOfCase.OfAnother)
        {
            (AsksFor, Refused) = ("film", null);
            Film.Shown = Attaching.Differences(Case, ready);
        }
    }

    private void Tap()
    {
        if (New!.Sha256 is not { } film)
        {
            return;
        }

        if (!New.Is(NewFilmForm.Attach))
        {
            Stay(New.Is(NewFilmForm.PutAside) ? Incoming.PutAside(film, By) : Incoming.TakeBack(film, By));
            return;
        }

        Done(Incoming.Attach(Case!.Id, film, New.TakenFor(Case), New.Said, By), Case.Version);
        AsksFor = null;
        if (Refused?.Code == FilmsOfCase.OfAnother)
        {
            (AsksFor, Refused) = ("new-films", null);
            New.Shown = Incoming.Differences(Case, film);
        }
    }

    private void TellSide() => Seen!.Version = Done(
        Reading.Read(Case!.Id, Seen.Version, new ParallaxReading(Seen.Thing ?? string.Empty, Seen.ComparedWith ?? string.Empty, Seen.First, Seen.Second, Seen.Moved), By),
        Seen.Version);

    private async Task AttachPhotograph() =>
        Photo!.Version = Done(Attaching.AttachPhotograph(Case!.Id, Photo.Version, await Sent("photo"), Photo.Caption, Photo.Canal, By), Photo.Version);

    /// <summary>When and from where films were taken.</summary>
    private sealed class FilmForm
    {
        public long Version { get; set; }

        public FilmMoment Moment { get; set; }

        public TubeShift Shift { get; set; }

        public string? On { get; set; }

        public List<ReadyFields> Ready { get; set => field = value ?? []; } = [];

        public string? Shown { get; set; }

        public string? Why { get; set; }
    }

    /// <summary>When a film of the case was taken.</summary>
    private sealed class DateForm
    {
        public long Version { get; set; }

        public string? Film { get; set; }

        public string? Day { get; set; }
    }

    /// <summary>A film that lies ready.</summary>
    private sealed class ReadyFields
    {
        public string? Sha256 { get; set; }

        public string? Name { get; set; }
    }

    /// <summary>What was seen on two films.</summary>
    private sealed class ParallaxForm
    {
        public long Version { get; set; }

        public string? Thing { get; set; }

        public string? ComparedWith { get; set; }

        public TubeShift First { get; set; }

        public TubeShift Second { get; set; }

        public Movement Moved { get; set; }
    }

    /// <summary>What a photograph shows.</summary>
    private sealed class PhotographForm
    {
        public long Version { get; set; }

        public string? Caption { get; set; }

        public string? Canal { get; set; }
    }
}
