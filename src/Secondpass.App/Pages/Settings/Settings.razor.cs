using System.Globalization;
using System.Reflection;
using Microsoft.AspNetCore.Components;
using Secondpass.App.Api;
using Secondpass.App.Pages.Shared;
using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Job;
using Secondpass.Job.Cases;
using Secondpass.Job.Incoming;

namespace Secondpass.App.Pages.Settings;

/// <summary>Where the data are, how the pages look, who writes, what this program is.</summary>
public sealed partial class Settings
{
    [SupplyParameterFromForm(FormName = "who")]
    private string? Who { get; set; }

    [SupplyParameterFromForm(FormName = "notation")]
    private ToothNotation? Notation { get; set; }

    [SupplyParameterFromForm(FormName = "currency")]
    private string? Currency { get; set; }

    [SupplyParameterFromForm(FormName = "films-folder")]
    private string? FolderTyped { get; set; }

    [SupplyParameterFromForm(FormName = "films-folder-tapped")]
    private string? FolderTapped { get; set; }

    // Where the list of folders stands; null while it isn't opened.
    [SupplyParameterFromQuery]
    private string? At { get; set; }

    [CascadingParameter]
    private HttpContext Http { get; set; } = default!;

    [Inject]
    private ClinicData Data { get; set; } = default!;

    [Inject]
    private FilmsFolder Incoming { get; set; } = default!;

    [Inject]
    private WatchFolder Watched { get; set; } = default!;

    [Inject]
    private TimeProvider Time { get; set; } = default!;

    [Inject]
    private ClinicHabits Habits { get; set; } = default!;

    [Inject]
    private NavigationManager Navigation { get; set; } = default!;

    private Refusal? Refused { get; set; }

    private string? Known => ThisDesk.Writer(Http).Who is var who && who != ThisDesk.Nobody ? who : null;

    private static ToothNumber Example => ToothNumber.Parse("16").Value;

    private static string Version { get; } =
        typeof(Settings).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()!.InformationalVersion.Split('+')[0];

    private void KeepWho()
    {
        Http.Response.Cookies.Append(ThisDesk.WhoCookie, (Who ?? string.Empty).Trim(), ThisDesk.Kept);
        Navigation.NavigateTo("/settings");
    }

    private void KeepNotation() => Keep(Habits.Choose(Notation ?? ToothNotation.Iso3950, ThisDesk.Writer(Http)));

    private void KeepCurrency() => Keep(Habits.ChooseCurrency(Currency, ThisDesk.Writer(Http)));

    private void KeepFilmsFolder() => Keep(Incoming.Choose(FolderTapped ?? FolderTyped, ThisDesk.Writer(Http)));

    private string FolderInWords => Watched.Now switch
    {
        { GoneSince: { } gone } => $"It can’t be reached since {Moments.InWords(gone, Time)}.",
        { LookedAt: { } at } now when now.Folder == Incoming.Chosen => string.Create(CultureInfo.InvariantCulture, $"Looked at last on {Moments.InWords(at, Time)}; {now.Films.Count} {(now.Films.Count == 1 ? "film" : "films")} of the last days in it."),
        _ => "It is being looked at.",
    };

    private void Keep<T>(Answer<T> answer)
        where T : notnull
    {
        if (answer.TryGet(out _, out var refusal))
        {
            Navigation.NavigateTo("/settings");
        }
        else
        {
            Refused = refusal;
        }
    }
}
