using Microsoft.AspNetCore.Components;

namespace Secondpass.App.Pages.Shared;

/// <summary>Folders of this computer to tap through, and a button that chooses the one that is shown.</summary>
public sealed partial class FolderList
{
    /// <summary>The folder that is shown; null while the list isn't opened.</summary>
    [Parameter]
    public string? Path { get; set; }

    /// <summary>The address that shows a folder.</summary>
    [Parameter]
    [EditorRequired]
    public Func<string, string> Link { get; set; } = default!;

    /// <summary>The name of the field that brings the chosen folder.</summary>
    [Parameter]
    [EditorRequired]
    public string Field { get; set; } = string.Empty;

    /// <summary>The name of the form.</summary>
    [Parameter]
    [EditorRequired]
    public string FormName { get; set; } = string.Empty;

    /// <summary>What the button says.</summary>
    [Parameter]
    [EditorRequired]
    public string Choose { get; set; } = string.Empty;

    /// <summary>Called when the folder was chosen.</summary>
    [Parameter]
    [EditorRequired]
    public EventCallback OnChoose { get; set; }
}
