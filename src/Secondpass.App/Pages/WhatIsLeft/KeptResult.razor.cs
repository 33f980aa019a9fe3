using Microsoft.AspNetCore.Components;
using Secondpass.Job;
using Secondpass.Job.Documents;

namespace Secondpass.App.Pages.WhatIsLeft;

/// <summary>One comparison as it was kept: its figures come from what was stored, not from computing again.</summary>
public sealed partial class KeptResult
{
    /// <summary>Which one.</summary>
    [Parameter]
    public string Id { get; set; } = string.Empty;

    [Inject]
    private KeptResults Results { get; set; } = default!;

    [Inject]
    private TimeProvider Time { get; set; } = default!;

    private KeptRecord? Found { get; set; }

    private CompareDocument Document { get; set; } = default!;

    private string? Tooth { get; set; }

    /// <inheritdoc/>
    protected override void OnParametersSet()
    {
        Found = Results.Find(Id).TryGet(out var found, out _) ? found : null;
        if (Found is not null)
        {
            Document = Found.Document;
            Tooth = Found.Tooth;
        }
    }
}
