using Microsoft.AspNetCore.Components;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Films;
using Secondpass.Job.Cases;
using Secondpass.Job.Shown;

namespace Secondpass.App.Pages.Cases;

/// <summary>Lesions that are outlined under one name on several films of the case, with what changed.</summary>
public sealed partial class LesionChanges
{
    /// <summary>The case.</summary>
    [Parameter]
    [EditorRequired]
    public DentalCase Case { get; set; } = default!;

    [Inject]
    private CalibrateFilm Calibrating { get; set; } = default!;

    private IReadOnlyList<ShownLesionChange> Changes => ShownLesionChange.Of(Case, one => Calibrating.HasOtherScale(Case, one));

    private string FilmOf(DrawnMeasurement one) => CaseWords.Of(Case.Films.First(film => film.Sha256 == one.FilmSha256));
}
