using Microsoft.AspNetCore.Components;
using Secondpass.App.Api;
using Secondpass.Domain.Anatomy;
using Secondpass.Job.Cases;

namespace Secondpass.App.Pages.Cases;

/// <summary>The cases, the last changed first.</summary>
public sealed partial class CaseList
{
    /// <summary>What is looked for.</summary>
    [SupplyParameterFromQuery]
    private string? Find { get; set; }

    [Inject]
    private CaseRegister Register { get; set; } = default!;

    [Inject]
    private ClinicHabits Habits { get; set; } = default!;

    [Inject]
    private InventedClinic Invented { get; set; } = default!;

    [Inject]
    private TimeProvider Time { get; set; } = default!;

    private IReadOnlyList<ListedCase> All { get; set; } = [];

    private IReadOnlyList<ListedCase> Shown { get; set; } = [];

    /// <inheritdoc/>
    protected override void OnInitialized()
    {
        All = Register.All();
        Shown = string.IsNullOrWhiteSpace(Find) ? All : [.. All.Where(one => Words(one).Any(word => word.Contains(Find.Trim(), StringComparison.OrdinalIgnoreCase)))];
    }

    private string[] Words(ListedCase one) =>
    [
        one.Patient.Number, one.Patient.Name ?? string.Empty, one.Referrer ?? string.Empty, one.Tooth.Words, new WrittenTooth(one.Tooth, Habits.Notation).Text,
    ];
}
