using Microsoft.AspNetCore.Components;
using Secondpass.App.Api;
using Secondpass.Domain;
using Secondpass.Job.Cases;

namespace Secondpass.App.Pages.Cases;

/// <summary>A referral becomes a case.</summary>
public sealed partial class NewCase
{
    [SupplyParameterFromForm(FormName = "new-case")]
    private ReferralForm? Form { get; set; }

    [CascadingParameter]
    private HttpContext Http { get; set; } = default!;

    [Inject]
    private OpenCase Opening { get; set; } = default!;

    [Inject]
    private ClinicHabits Habits { get; set; } = default!;

    [Inject]
    private NavigationManager Navigation { get; set; } = default!;

    private Refusal? Refused { get; set; }

    /// <inheritdoc/>
    protected override void OnInitialized() => Form ??= new ReferralForm();

    private async Task Open()
    {
        var letter = await SentFiles.One(Http, ReferralFields.LetterField);
        if (Opening.Open(Form!, letter, ThisDesk.Writer(Http)).TryGet(out var opened, out var refusal))
        {
            Navigation.NavigateTo(CaseRoutes.Of(opened.Id));
        }
        else
        {
            Refused = refusal;
        }
    }
}
