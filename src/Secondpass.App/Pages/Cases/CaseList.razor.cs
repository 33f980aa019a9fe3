using Microsoft.AspNetCore.Components;
using Secondpass.App.Api;
using Secondpass.Domain.Anatomy;
using Secondpass.Job.Cases;

namespace Secondpass.App.Pages.Cases;

/// <summary>The cases, the last changed first.</summary>
public sealed partial class CaseList
{
    // As many as a hand scrolls through; each is read for its next step.
    private const int AtFirst = 50;

    /// <summary>What is looked for.</summary>
    [SupplyParameterFromQuery]
    private string? Find { get; set; }

    /// <summary>Whether all are shown rather than the last changed.</summary>
    [SupplyParameterFromQuery(Name = "all")]
    private bool ShowAll { get; set; }

    [Inject]
    private CaseRegister Register { get; set; } = default!;

    [Inject]
    private ClinicHabits Habits { get; set; } = default!;

    [Inject]
    private InventedClinic Invented { get; set; } = default!;

    [Inject]
    private TimeProvider Time { get; set; } = default!;

    private IReadOnlyList<ListedCase> All { get; set; } = [];

    private IReadOnlyList<ListedCase> Found { get; set; } = [];

    private IReadOnlyList<ListedCase> Shown { get; set; } = [];

    /// <inheritdoc/>
    protected override void OnInitialized()
    {
        All = Register.All();
        Found = string.IsNullOrWhiteSpace(Find) ? All : [.. All.Where(one => Words(one).Any(word => word.Contains(Find.Trim(), StringComparison.OrdinalIgnoreCase)))];
        Shown = ShowAll ? Found : [.. Found.Take(AtFirst)];
    }

    private string[] Words(ListedCase one) =>
    [
        one.Patient.Number, one.Patient.Name ?? string.Empty, one.Referrer ?? string.Empty, one.Tooth.Words, new WrittenTooth(one.Tooth, Habits.Notation).Text,
    ];
}
