using System.Globalization;
using Microsoft.AspNetCore.Components;
using Secondpass.App.Api;
using Secondpass.Domain;
using Secondpass.Domain.Cases;
using Secondpass.Job.Cases;
using Secondpass.Job.Incoming;

namespace Secondpass.App.Pages.Films;

/// <summary>An import: what was looked at, which case each film goes to, and afterwards what became of each.</summary>
public sealed partial class ImportTable
{
    // Repeated for each film of the table: a longer list is no choice, and a film left out here is attached on its case's page.
    private const int MostChoices = 20;

    /// <summary>The import.</summary>
    [Parameter]
    public string Id { get; set; } = string.Empty;

    [SupplyParameterFromForm(FormName = "import")]
    private ImportForm? Form { get; set; }

    [CascadingParameter]
    private HttpContext Http { get; set; } = default!;

    [Inject]
    private ImportFilms Imports { get; set; } = default!;

    [Inject]
    private CaseRegister Register { get; set; } = default!;

    [Inject]
    private NavigationManager Navigation { get; set; } = default!;

    [Inject]
    private TimeProvider Time { get; set; } = default!;

    private FilmImport? Import { get; set; }

    private Refusal? Refused { get; set; }

    // All of one moment: the import goes on while the page is written.
    private ImportNow? Now { get; set; }

    private IReadOnlyList<ImportRow> Rows => Now?.Rows ?? [];

    private IReadOnlyList<ListedCase> Cases { get; set; } = [];

    private int New => Rows.Count(row => row.MayBeStored);

    private int Proposed => Rows.Count(row => row.MayBeStored && row.Case is not null);

    private int Stored => Rows.Count(row => row.Outcome?.Stored is not null);

    /// <inheritdoc/>
    protected override void OnInitialized()
    {
        Form ??= new ImportForm();
        if (Imports.Find(Id).TryGet(out var import, out var refusal))
        {
            Import = import;
            Now = import.Now;
            Cases = Register.All();
        }
        else
        {
            Refused = refusal;
        }
    }

    private void Act()
    {
        if (Import is null)
        {
            return;
        }

        if (Form!.Act == ImportForm.Stop)
        {
            Import.Stop();
            Navigation.NavigateTo($"/films/import/{Id}");
            return;
        }

        var choices = new Dictionary<int, ImportChoice>();
        foreach (var (place, id) in Form!.CaseOf)
        {
            if (id is { Length: > 0 })
            {
                choices[place] = new ImportChoice(new CaseId(id), new FilmTaken(Form.MomentOf.GetValueOrDefault(place), TubeShift.Straight));
            }
        }

        if (Import.Store(choices, ThisDesk.Writer(Http)).TryGet(out _, out var refusal))
        {
            Navigation.NavigateTo($"/films/import/{Id}");
        }
        else
        {
            Refused = refusal;
        }
    }

    private string? Chosen(ImportRow row, int place) => Form!.CaseOf.TryGetValue(place, out var chosen) ? chosen : row.Case?.Value;

    // The case that is proposed, then those of the number that the film names, then the last changed.
    private IEnumerable<ListedCase> Choices(ImportRow row) => Cases
        .OrderByDescending(one => one.Id == row.Case)
        .ThenByDescending(one => row.Stated.PatientNumber is { } number && IdentityDifferences.IsSameNumber(number, one.Patient.Number))
        .Take(MostChoices);

    private static string Said(int count, string one, string several) => string.Create(CultureInfo.InvariantCulture, $"{count} {(count == 1 ? one : several)}");

    /// <summary>Which case each film goes to.</summary>
    private sealed class ImportForm
    {
        /// <summary>The act of stopping.</summary>
        public const string Stop = "stop";

        /// <summary>The act of storing what was chosen.</summary>
        public const string Store = "store";

        /// <summary>What was tapped.</summary>
        public string? Act { get; set; }

        /// <summary>The case by the place of the row, from 0.</summary>
        public Dictionary<int, string?> CaseOf { get; set => field = value ?? []; } = [];

        /// <summary>When it was taken, by the place of the row.</summary>
        public Dictionary<int, FilmMoment> MomentOf { get; set => field = value ?? []; } = [];
    }
}
