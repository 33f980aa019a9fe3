using Microsoft.AspNetCore.Components;
using Secondpass.Domain.Cases;

namespace Secondpass.App.Pages.Films;

/// <summary>The fields by which it is said why a film belongs to a case of which it does not speak.</summary>
public sealed partial class ConfirmFields
{
    /// <summary>What was tapped.</summary>
    [Parameter]
    [EditorRequired]
    public NewFilmForm Form { get; set; } = default!;

    /// <summary>The case.</summary>
    [Parameter]
    [EditorRequired]
    public DentalCase Case { get; set; } = default!;

    /// <summary>Where to go without attaching it.</summary>
    [Parameter]
    [EditorRequired]
    public string Back { get; set; } = string.Empty;
}
