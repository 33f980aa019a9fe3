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

    private string? ClinicCurrency { get; set; }

    private string? FeeCurrency { get; set; }

    // A fee keeps the currency that it was noted in until it is said to be in the clinic's of now.
    private bool IsFeeInAnotherCurrency => ClinicCurrency is not null && Case!.Assessment.ExplorationFee is { } noted && noted.CurrencyCode != ClinicCurrency;

    /// <inheritdoc/>
    protected override void Fill(DentalCase it)
    {
        Form ??= AssessmentForm.Of(it);
        ClinicCurrency = Assessing.ClinicCurrencyCode;
        FeeCurrency = Assessing.FeeCurrencyCode(it, Form.FeeIsInClinicCurrency);
    }

    private void Save() => Form!.Version = Done(Assessing.Assess(Case!.Id, Form, By), Form.Version, CaseRoutes.Of(Case.Id));
}
