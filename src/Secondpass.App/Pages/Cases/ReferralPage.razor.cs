using Microsoft.AspNetCore.Components;
using Secondpass.Domain.Cases;
using Secondpass.Job.Cases;

namespace Secondpass.App.Pages.Cases;

/// <summary>Who sent the tooth and why, and what matters before treatment.</summary>
public sealed partial class ReferralPage
{
    [SupplyParameterFromForm(FormName = "referral")]
    private ReferralForm? Form { get; set; }

    [Inject]
    private OpenCase Opening { get; set; } = default!;

    /// <inheritdoc/>
    protected override void Fill(DentalCase it) => Form ??= ReferralForm.Of(it);

    private async Task Save()
    {
        var letter = await Sent(ReferralFields.LetterField);
        Form!.Version = Done(Opening.Change(Case!.Id, Form, letter, By), Form.Version, CaseRoutes.Of(Case.Id));
    }
}
