using Microsoft.AspNetCore.Components;
using Secondpass.App.Api;
using Secondpass.Domain;

namespace Secondpass.App.Pages.Shared;

/// <summary>A page that could not be shown, or a form that could not be taken in: why, what to do, and what was typed.</summary>
public sealed partial class FailedPage
{
    /// <summary>Why.</summary>
    [Parameter]
    [EditorRequired]
    public Refusal Refusal { get; set; } = default!;

    /// <summary>Where the page is.</summary>
    [Parameter]
    [EditorRequired]
    public string Address { get; set; } = string.Empty;

    /// <summary>The form that was sent; null when none was.</summary>
    [Parameter]
    public SentForm? Sent { get; set; }

    private string Title => Sent is null ? "This page can't be shown just now" : "This could not be taken in just now";
}
