using Microsoft.AspNetCore.Components;
using Secondpass.Domain.Cases;

namespace Secondpass.App.Pages.Films;

/// <summary>Says in which points a film speaks of another patient or tooth than a case, above the form that asks why it belongs there.</summary>
public sealed partial class ConfirmFilm
{
    /// <summary>The case.</summary>
    [Parameter]
    [EditorRequired]
    public DentalCase Case { get; set; } = default!;

    /// <summary>The sentences, one a line.</summary>
    [Parameter]
    [EditorRequired]
    public string Sentences { get; set; } = string.Empty;

    /// <summary>The form.</summary>
    [Parameter]
    public RenderFragment? ChildContent { get; set; }
}
