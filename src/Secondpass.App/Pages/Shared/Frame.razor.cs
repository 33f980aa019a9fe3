using Microsoft.AspNetCore.Components;
using Secondpass.Records;

namespace Secondpass.App.Pages.Shared;

/// <summary>What stands around every page: the mark, the menu, and at the first start the notice instead of the page.</summary>
public sealed partial class Frame
{
    [Inject]
    private ClinicStore Store { get; set; } = default!;

    private bool Accepted { get; set; }

    /// <inheritdoc/>
    protected override void OnInitialized() => Accepted = Store.NoticeAccepted;
}
