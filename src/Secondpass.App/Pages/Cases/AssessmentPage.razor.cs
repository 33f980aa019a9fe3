using Microsoft.AspNetCore.Components;
using Secondpass.Domain.Cases;
using Secondpass.Job.Cases;

namespace Secondpass.App.Pages.Cases;

/// <summary>How the tooth stands, what was done before, and whether it can be kept.</summary>
public sealed partial class AssessmentPage
{
    [SupplyParameterFromForm(FormName = "assessment")]
    private AssessmentForm? Form { get; set; }

    [Inject]
    private AssessTooth Assessing { get; set; } = default!;

    // The stop question stands there as soon as a deep pocket was sent or is on record.
    private bool Stop => !string.IsNullOrWhiteSpace(Form!.DeepProbing);

    /// <inheritdoc/>
    protected override void Fill(DentalCase it) => Form ??= AssessmentForm.Of(it);

    private void Save() => Form!.Version = Done(Assessing.Assess(Case!.Id, Form, By), Form.Version, CaseRoutes.Of(Case.Id));
}
