using Microsoft.AspNetCore.Components;
using Secondpass.App.Pages.Shared;
using Secondpass.Job;

namespace Secondpass.App.Pages.WhatIsLeft;

/// <summary>The comparisons that were kept, newest first.</summary>
public sealed partial class Kept
{
    [Inject]
    private KeptResults Results { get; set; } = default!;

    [Inject]
    private TimeProvider Time { get; set; } = default!;

    private IReadOnlyList<KeptRecord> All { get; set; } = [];

    /// <inheritdoc/>
    protected override void OnInitialized() => All = Results.All();

    private string When(DateTimeOffset at) => Moments.InWords(at, Time);
}
