using System.Reflection;
using Microsoft.AspNetCore.Components;
using Secondpass.App.Api;
using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Job;
using Secondpass.Job.Cases;

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

    [CascadingParameter]
    private HttpContext Http { get; set; } = default!;

    [Inject]
    private ClinicData Data { get; set; } = default!;

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
