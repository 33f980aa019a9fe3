using Microsoft.AspNetCore.Components;
using Secondpass.Job;

namespace Secondpass.App.Pages.Shared;

/// <summary>What stands around every page: the mark, the menu, and at the first start the notice instead of the page.</summary>
public sealed partial class Frame
{
    [Inject]
    private ClinicData Data { get; set; } = default!;

    private bool Accepted { get; set; }

    /// <inheritdoc/>
    protected override void OnInitialized() => Accepted = Data.NoticeAccepted;
}
