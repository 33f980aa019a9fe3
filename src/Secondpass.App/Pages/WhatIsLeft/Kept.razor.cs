using System.Globalization;
using Microsoft.AspNetCore.Components;
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

    private string When(DateTimeOffset at) => When(at, Time);

    /// <summary>A time as this computer's clock on the wall shows it, such as "4 March 2026, 09:30".</summary>
    internal static string When(DateTimeOffset at, TimeProvider time) =>
        TimeZoneInfo.ConvertTime(at, time.LocalTimeZone).ToString("d MMMM yyyy, HH:mm", CultureInfo.InvariantCulture);
}
