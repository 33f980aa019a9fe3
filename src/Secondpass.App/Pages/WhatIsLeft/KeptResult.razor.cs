using Microsoft.AspNetCore.Components;
using Secondpass.Domain;
using Secondpass.Job;
using Secondpass.Job.Documents;
using Secondpass.Job.Meaning;

namespace Secondpass.App.Pages.WhatIsLeft;

/// <summary>One comparison as it was kept: its figures come from what was stored, not from computing again.</summary>
public sealed partial class KeptResult
{
    /// <summary>Which one.</summary>
    [Parameter]
    public string Id { get; set; } = string.Empty;

    /// <summary>Another kept result to read together with it; null for none.</summary>
    [SupplyParameterFromQuery(Name = "with")]
    private string? WithId { get; set; }

    [Inject]
    private KeptResults Results { get; set; } = default!;

    [Inject]
    private TimeProvider Time { get; set; } = default!;

    private KeptRecord? Found { get; set; }

    private CompareDocument Document { get; set; } = default!;

    private string? Tooth { get; set; }

    private IReadOnlyList<KeptRecord> Others { get; set; } = [];

    private KeptRecord? With { get; set; }

    private TogetherDocument? Together { get; set; }

    private Refusal? NotTogether { get; set; }

    /// <inheritdoc/>
    protected override void OnParametersSet()
    {
        Found = Results.Find(Id).TryGet(out var found, out _) ? found : null;
        if (Found is not null)
        {
            Document = Found.Document;
            Tooth = Found.Tooth;
            Others = Results.FromAnotherAngle(Found);
            With = Others.FirstOrDefault(other => other.Id == WithId);
            if (With is not null)
            {
                Together = TwoViews.Read(Document, With.Document).TryGet(out var together, out var refusal) ? together : null;
                NotTogether = refusal;
            }
        }
    }
}
