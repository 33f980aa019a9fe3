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

    /// <summary>What else stands beside the title.</summary>
    [Parameter]
    public RenderFragment? ChildContent { get; set; }
}
