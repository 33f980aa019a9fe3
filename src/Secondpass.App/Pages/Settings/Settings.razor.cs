using System.Reflection;
using Microsoft.AspNetCore.Components;
using Secondpass.Job;

namespace Secondpass.App.Pages.Settings;

/// <summary>Where the data are, how the pages look, what this program is.</summary>
public sealed partial class Settings
{
    [Inject]
    private ClinicData Data { get; set; } = default!;

    private static string Version { get; } =
        typeof(Settings).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()!.InformationalVersion.Split('+')[0];
}
