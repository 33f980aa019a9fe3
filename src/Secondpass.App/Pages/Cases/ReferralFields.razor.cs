using Microsoft.AspNetCore.Components;
using Secondpass.Job.Cases;

namespace Secondpass.App.Pages.Cases;

/// <summary>The fields of a referral, for a new case and for changing one.</summary>
public sealed partial class ReferralFields
{
    /// <summary>The name of the field with the referral letter's file.</summary>
    public const string LetterField = "letter";

    /// <summary>What was typed.</summary>
    [Parameter]
    [EditorRequired]
    public ReferralForm Form { get; set; } = default!;
}
