using Microsoft.AspNetCore.Components;
using Secondpass.Domain.Cases;
using Secondpass.Job.Cases;

namespace Secondpass.App.Pages.Cases;

/// <summary>The films and photographs of a case, and what two films with the tube shifted tell.</summary>
public sealed partial class FilmsPage
{
    [SupplyParameterFromForm(FormName = "film")]
    private FilmForm? Film { get; set; }

    [SupplyParameterFromForm(FormName = "parallax")]
    private ParallaxForm? Seen { get; set; }

    [SupplyParameterFromForm(FormName = "photograph")]
    private PhotographForm? Photo { get; set; }

    [Inject]
    private AttachFilm Attaching { get; set; } = default!;

    [Inject]
    private ReadScan Reading { get; set; } = default!;

    /// <inheritdoc/>
    protected override void Fill(DentalCase it)
    {
        Film ??= new FilmForm { Version = it.Version };
        Seen ??= new ParallaxForm { Version = it.Version, Second = TubeShift.Mesial };
        Photo ??= new PhotographForm { Version = it.Version };
    }

    private async Task AttachFilms() =>
        Film!.Version = Done(Attaching.Attach(Case!.Id, Film.Version, await AllSent("films"), Film.Moment, Film.Shift, By), Film.Version);

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
