using Microsoft.AspNetCore.Components;
using Secondpass.App.Api;
using Secondpass.Domain;
using Secondpass.Job.Incoming;

namespace Secondpass.App.Pages.Films;

/// <summary>A folder of films, or several files, to be looked at before anything is imported.</summary>
public sealed partial class ImportPage
{
    [SupplyParameterFromForm(FormName = "import-folder")]
    private string? FolderTyped { get; set; }

    [SupplyParameterFromForm(FormName = "import-folder-tapped")]
    private string? FolderTapped { get; set; }

    // Where the list of folders stands; null while it isn't opened.
    [SupplyParameterFromQuery]
    private string? At { get; set; }

    [CascadingParameter]
    private HttpContext Http { get; set; } = default!;

    [Inject]
    private ImportFilms Imports { get; set; } = default!;

    [Inject]
    private NavigationManager Navigation { get; set; } = default!;

    private Refusal? Refused { get; set; }

    private void BeginFolder() => GoOn(Imports.Begin(FolderTapped ?? FolderTyped));

    private async Task BeginFiles() => GoOn(Imports.Begin(await SentFiles.All(Http, "films")));

    private void GoOn(Answer<FilmImport> begun)
    {
        if (begun.TryGet(out var import, out var refusal))
        {
            Navigation.NavigateTo($"/films/import/{import.Id}");
        }
        else
        {
            Refused = refusal;
        }
    }
}
