using Microsoft.AspNetCore.Components;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Job;
using Secondpass.Job.Cases;
using Secondpass.Job.Shown;

namespace Secondpass.App.Pages.Cases;

/// <summary>A film of the case on which canals are marked and measured. What happens on it is in its script.</summary>
public sealed partial class MeasurePage
{
    /// <summary>The film.</summary>
    [Parameter]
    public string Sha256 { get; set; } = string.Empty;

    [SupplyParameterFromForm(FormName = "measure")]
    private MeasureForm? Form { get; set; }

    [Inject]
    private MeasureForCase Measuring { get; set; } = default!;

    [Inject]
    private CalibrateFilm Calibrating { get; set; } = default!;

    [Inject]
    private FilmShelf Shelf { get; set; } = default!;

    // What its reader had to say; why a film can't be read is said where its scale would stand.
    private IReadOnlyList<string> FilmNotices => Shelf.Find(Sha256).TryGet(out var film, out _) ? film.Notices : [];

    // Of the case as it stands when the page is shown: a refused form may come back with what others noted meanwhile.
    private ShownScale Scale => ShownScale.Of(Case!, Sha256, Calibrating.ScaleOf(Case!, Sha256));

    private string Title => Case!.Films.FirstOrDefault(film => film.Sha256 == Sha256) is { } film ? CaseWords.Of(film) : "not a film of this case";

    // Each name, and the canal that it splits off from where the table says so; one that joins another has an orifice of its own.
    private IEnumerable<(string Name, string? Trunk, bool IsNoted)> Names => Case!.Canals
        .Select(canal => (canal.Name, canal.Meeting is { Joins: false } ? canal.Parent : null, true))
        .Concat(ExpectedCanals.Of(Case.Tooth).Select(canal => (canal.Name, (string?)null, false)))
        .DistinctBy(canal => canal.Name, StringComparer.OrdinalIgnoreCase);

    /// <inheritdoc/>
    protected override void Fill(DentalCase it) =>
        Form ??= new MeasureForm { Version = it.Version, Marks = it.Measured.FirstOrDefault(marks => marks.FilmSha256 == Sha256)?.CaseDocument };

    private void Take() => Form!.Version = Done(Measuring.Note(Case!.Id, Form.Version, Sha256, Form.Marks ?? string.Empty, By), Form.Version, CaseRoutes.Of(Case.Id, CaseStep.Canals));

    /// <summary>The marks, as the script writes them.</summary>
    private sealed class MeasureForm
    {
        public long Version { get; set; }

        public string? Marks { get; set; }
    }
}
