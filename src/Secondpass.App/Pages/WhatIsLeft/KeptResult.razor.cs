using System.Text.Json;
using Microsoft.AspNetCore.Components;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Quantities;
using Secondpass.Exchange.Wording;
using Secondpass.Job.Documents;
using Secondpass.Records;
using Secondpass.Records.Projections;

namespace Secondpass.App.Pages.WhatIsLeft;

/// <summary>One comparison as it was kept: its figures come from what was stored, not from computing again.</summary>
public sealed partial class KeptResult
{
    /// <summary>Which one.</summary>
    [Parameter]
    public string Id { get; set; } = string.Empty;

    [Inject]
    private ClinicStore Store { get; set; } = default!;

    [Inject]
    private TimeProvider Time { get; set; } = default!;

    private KeptComparison? Found { get; set; }

    private CompareDocument Document { get; set; } = default!;

    private string? Tooth { get; set; }

    /// <inheritdoc/>
    protected override void OnParametersSet()
    {
        Found = Store.FindComparison(Id);
        if (Found is not null)
        {
            Document = JsonSerializer.Deserialize<CompareDocument>(Found.ComparisonDocument, DocumentJson.Options)!;
            var entered = JsonSerializer.Deserialize<CaseDocument>(Found.CaseDocument, DocumentJson.Options)!;
            Tooth = ToothNumber.Parse(entered.Tooth).TryGet(out var tooth, out _) ? $"{tooth}, {tooth.Words}" : null;
        }
    }

    private static string Share(double? mass, double[]? massInterval, double? area, double[]? areaInterval) =>
        (mass ?? area, massInterval ?? areaInterval) is ({ } value, { } ends)
            ? ResidueWords.Share(new Estimate(value, new Interval(ends[0], ends[1])))
            : ResidueWords.NotKnown;
}
