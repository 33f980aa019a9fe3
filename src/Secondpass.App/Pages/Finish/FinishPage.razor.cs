using Microsoft.AspNetCore.Components;
using Secondpass.App.Pages.Cases;
using Secondpass.Domain.Cases;
using Secondpass.Job.Chairside;
using Secondpass.Job.Finish;

namespace Secondpass.App.Pages.Finish;

/// <summary>What a visit ended with.</summary>
public sealed partial class FinishPage : CasePage
{
    /// <summary>Which visit; the last one when not said.</summary>
    [SupplyParameterFromQuery]
    private int? Visit { get; set; }

    [SupplyParameterFromForm(FormName = "finish")]
    private FinishForm? Form { get; set; }

    [Inject]
    private FinishVisit Finishing { get; set; } = default!;

    private IReadOnlyList<int> Visits { get; set; } = [];

    /// <inheritdoc/>
    protected override void Fill(DentalCase it)
    {
        var current = ShownVisit.Current(it);
        Visits = [.. Enumerable.Range(1, current)];
        Form ??= FinishForm.Of(it, Visit is { } asked && Visits.Contains(asked) ? asked : current);
        Form.AddSpareLines();
    }

    private void Save() => Form!.Version = Done(Finishing.Finish(Case!.Id, Form, By), Form.Version, Form.Finished ? CaseRoutes.Of(Case.Id, CaseStep.Letter) : CaseRoutes.Of(Case.Id));
}
