using Microsoft.AspNetCore.Components;

namespace Secondpass.App.Pages.WhatIsLeft;

/// <summary>One film with its tools for looking.</summary>
public sealed partial class FilmArea
{
    /// <summary>before or after.</summary>
    [Parameter]
    [EditorRequired]
    public string Side { get; set; } = string.Empty;

    /// <summary>What stands over the film.</summary>
    [Parameter]
    [EditorRequired]
    public string Title { get; set; } = string.Empty;

    /// <summary>What the film is called while there is none.</summary>
    [Parameter]
    [EditorRequired]
    public string Empty { get; set; } = string.Empty;

    /// <summary>SHA-256 of the film that its script will show: asked for at once, before the scripts have come. Null where the film is chosen on the page.</summary>
    [Parameter]
    public string? Film { get; set; }

    /// <summary>What else stands beside the title.</summary>
    [Parameter]
    public RenderFragment? ChildContent { get; set; }
}
