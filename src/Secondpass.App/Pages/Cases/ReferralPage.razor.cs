using Microsoft.AspNetCore.Components;
using Secondpass.Domain.Cases;
using Secondpass.Job.Cases;

namespace Secondpass.App.Pages.Cases;

/// <summary>Who sent the tooth and why, and what matters before treatment.</summary>
public sealed partial class ReferralPage
{
    [SupplyParameterFromForm(FormName = "referral")]
    private ReferralForm? Form { get; set; }

    [SupplyParameterFromForm(FormName = "correction")]
    private CaseCorrectionForm? Correction { get; set; }

    [Inject]
    private CorrectCase Correcting { get; set; } = default!;

    [Inject]
    private ClinicHabits Habits { get; set; } = default!;

    [Inject]
    private OpenCase Opening { get; set; } = default!;

    /// <inheritdoc/>
    protected override void Fill(DentalCase it)
    {
        IsCorrecting = Correction is not null;
        Form ??= ReferralForm.Of(it);
        Correction ??= CaseCorrectionForm.Of(it, Habits.Notation);
    }

    private bool IsCorrecting { get; set; }

    private void Correct() => Correction!.Version = Done(Correcting.Correct(Case!.Id, Correction, By), Correction.Version, CaseRoutes.Of(Case.Id));

    private async Task Save()
    {
        var letter = await Sent(ReferralFields.LetterField);
        Form!.Version = Done(Opening.Change(Case!.Id, Form, letter, By), Form.Version, CaseRoutes.Of(Case.Id));
    }
}
