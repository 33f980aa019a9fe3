using Microsoft.AspNetCore.Components;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Films;
using Secondpass.Job;
using Secondpass.Job.Cases;
using Secondpass.Job.Shown;

namespace Secondpass.App.Pages.Cases;

/// <summary>A film of the case on which lengths, angles and lesions are drawn. What happens on it is in its script.</summary>
public sealed partial class DrawPage
{
    private static readonly (string Kind, string Word)[] Kinds =
    [
        ("length", "Length"),
        ("angle", "Angle"),
        ("angle_of_lines", "Two lines"),
        ("lesion", "Lesion"),
        ("known_length", "Known length"),
    ];

    /// <summary>The film.</summary>
    [Parameter]
    public string Sha256 { get; set; } = string.Empty;

    [SupplyParameterFromForm(FormName = "draw")]
    private DrawForm? Form { get; set; }

    [Inject]
    private DrawOnFilm Drawing { get; set; } = default!;

    [Inject]
    private CalibrateFilm Calibrating { get; set; } = default!;

    [Inject]
    private FilmShelf Shelf { get; set; } = default!;

    // What its reader had to say; why a film can't be read is said where its scale would stand.
    private IReadOnlyList<string> FilmNotices => Shelf.Find(Sha256).TryGet(out var film, out _) ? film.Notices : [];

    // Of the case as it stands when the page is shown: a refused form may come back with what others noted meanwhile.
    private ShownScale Scale => ShownScale.Of(Case!, Sha256, Calibrating.ScaleOf(Case!, Sha256));

    private string Title => Case!.Films.FirstOrDefault(film => film.Sha256 == Sha256) is { } film ? CaseWords.Of(film) : "not a film of this case";

    private List<DrawnMeasurement> OnFilm => [.. Case!.Drawn.Where(one => one.FilmSha256 == Sha256)];

    private List<DrawnMeasurement> RemovedFromFilm => [.. Case!.DrawnRemoved.Where(one => one.FilmSha256 == Sha256).Reverse()];

    private string Kept => KeptDrawing.AsJson(OnFilm);

    // Names that lesions have on other films and not yet on this one: what is drawn next is likely one of them.
    private IEnumerable<string> KnownNames => Case!.Drawn
        .Where(one => one.Shape.Kind == DrawnKind.Lesion && one.FilmSha256 != Sha256)
        .Select(one => one.Name)
        .Except(OnFilm.Select(one => one.Name), StringComparer.OrdinalIgnoreCase);

    /// <inheritdoc/>
    protected override void Fill(DentalCase it) => Form ??= new DrawForm { Version = it.Version };

    private void Take() => Form!.Version = Done(Answer(Case!.Id), Form.Version);

    private Domain.Answer<DentalCase> Answer(CaseId id) => Form switch
    {
        { Remove: { } number } => Drawing.Remove(id, Form.Version, number, By),
        { PutBack: { } number } => Drawing.PutBack(id, Form.Version, number, By),
        { MeasureAnew: { } number } => Drawing.MeasureAnew(id, Form.Version, number, By),
        { AsScale: true } => Calibrating.ByKnownLength(id, Form.Version, Sha256, Form.Drawing, Form.TrueLength, By),
        { TakeScaleBack: true } => Calibrating.TakeBack(id, Form.Version, Sha256, By),
        _ => Drawing.Keep(id, Form!.Version, Sha256, Form.Number, Form.Name, Form.Drawing, By),
    };

    /// <summary>What was drawn, as the script writes it.</summary>
    private sealed class DrawForm
    {
        public long Version { get; set; }

        public int? Number { get; set; }

        public string? Name { get; set; }

        public string? Drawing { get; set; }

        public int? Remove { get; set; }

        public int? PutBack { get; set; }

        public int? MeasureAnew { get; set; }

        public string? TrueLength { get; set; }

        public bool AsScale { get; set; }

        public bool TakeScaleBack { get; set; }
    }
}
