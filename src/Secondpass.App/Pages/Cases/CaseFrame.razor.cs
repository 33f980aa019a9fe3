using Microsoft.AspNetCore.Components;
using Secondpass.Domain.Cases;

namespace Secondpass.App.Pages.Cases;

/// <summary>The frame of every page of a case.</summary>
public sealed partial class CaseFrame
{
    /// <summary>The page.</summary>
    [Parameter]
    [EditorRequired]
    public CasePage Page { get; set; } = default!;

    /// <summary>Its step; null for the overview.</summary>
    [Parameter]
    public CaseStep? Step { get; set; }

    /// <summary>Its heading.</summary>
    [Parameter]
    [EditorRequired]
    public string Title { get; set; } = string.Empty;

    /// <summary>The page's own content.</summary>
    [Parameter]
    public RenderFragment? ChildContent { get; set; }

    [Inject]
    private TimeProvider Time { get; set; } = default!;
}
