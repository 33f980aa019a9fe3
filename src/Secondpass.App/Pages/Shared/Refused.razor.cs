using Microsoft.AspNetCore.Components;
using Secondpass.Domain;

namespace Secondpass.App.Pages.Shared;

/// <summary>Why something was not done, and what to do now.</summary>
public sealed partial class Refused
{
    /// <summary>The refusal.</summary>
    [Parameter]
    [EditorRequired]
    public Refusal Refusal { get; set; } = default!;

    /// <summary>What else must be said.</summary>
    [Parameter]
    public RenderFragment? ChildContent { get; set; }
}
