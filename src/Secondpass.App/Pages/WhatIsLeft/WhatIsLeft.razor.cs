using Microsoft.AspNetCore.Components;
using Secondpass.App.Api;
using Secondpass.Domain.Cases;
using Secondpass.Job;
using Secondpass.Job.Cases;

namespace Secondpass.App.Pages.WhatIsLeft;

/// <summary>Two films, a few clicks: what is left in each canal. What happens on it is in its script.</summary>
public sealed partial class WhatIsLeft
{
    /// <summary>The case whose films are compared; null for none.</summary>
    [SupplyParameterFromQuery(Name = "case")]
    private string? CaseId { get; set; }

    [Inject]
    private CaseRegister Cases { get; set; } = default!;

    private DentalCase? OfCase { get; set; }

    [Inject]
    private KeptResults Results { get; set; } = default!;

    [Inject]
    private DemoExamples Demo { get; set; } = default!;

    private IReadOnlyList<string> Examples => [.. Demo.Folders.Keys];

    private int KeptCount => Results.All().Count;

    /// <inheritdoc/>
    protected override void OnInitialized() => OfCase = CaseId is { } id && Cases.Read(id).TryGet(out var it, out _) ? it : null;
}
