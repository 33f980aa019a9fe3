using Microsoft.AspNetCore.Components;
using Secondpass.Domain.Cases;
using Secondpass.Job.Cases;

namespace Secondpass.App.Pages.Cases;

/// <summary>A case at a glance: why it was sent, the next step, what was noted.</summary>
public sealed partial class CaseOverview
{
    [Inject]
    private CaseRegister AllCases { get; set; } = default!;

    [Inject]
    private TimeProvider Time { get; set; } = default!;

    private IReadOnlyList<CaseNote> Notes { get; set; } = [];

    /// <inheritdoc/>
    protected override void Fill(DentalCase it) => Notes = AllCases.Since(Id, 0).TryGet(out var notes, out _) ? [.. notes.Reverse()] : [];
}
