using Microsoft.AspNetCore.Components;
using Secondpass.Domain.Clinics;
using Secondpass.Job.Instruments;

namespace Secondpass.App.Pages.Instruments;

/// <summary>A sequence as fields: its steps, and room for more.</summary>
public sealed partial class SequenceFields
{
    private const int RoomForMore = 3;

    /// <summary>The form's name, unique on the page.</summary>
    [Parameter]
    [EditorRequired]
    public string FormName { get; set; } = string.Empty;

    /// <summary>Begins the fields' identities.</summary>
    [Parameter]
    [EditorRequired]
    public string Id { get; set; } = string.Empty;

    /// <summary>The clinic.</summary>
    [Parameter]
    [EditorRequired]
    public Clinic Clinic { get; set; } = default!;

    /// <summary>The sequence's name.</summary>
    [Parameter]
    public string? Name { get; set; }

    /// <summary>Its steps.</summary>
    [Parameter]
    public IReadOnlyList<SequenceLine> Steps { get; set; } = [];

    /// <summary>What is done when it is sent.</summary>
    [Parameter]
    public EventCallback OnSend { get; set; }

    private IReadOnlyList<SequenceLine> Rows =>
        [.. Steps.Where(line => line.KindCode is { Length: > 0 }), .. Enumerable.Range(0, RoomForMore).Select(_ => new SequenceLine())];
}
