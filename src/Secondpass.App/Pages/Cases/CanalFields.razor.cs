using Microsoft.AspNetCore.Components;
using Secondpass.Job.Cases;

namespace Secondpass.App.Pages.Cases;

/// <summary>One canal or branch in the form.</summary>
public sealed partial class CanalFields
{
    /// <summary>What the names of its fields begin with.</summary>
    [Parameter]
    [EditorRequired]
    public string Name { get; set; } = string.Empty;

    /// <summary>What was typed.</summary>
    [Parameter]
    [EditorRequired]
    public CanalLine Line { get; set; } = default!;

    /// <summary>The names of all canals in the form.</summary>
    [Parameter]
    [EditorRequired]
    public IReadOnlyList<string> Others { get; set; } = [];

    /// <summary>Whether all is shown.</summary>
    [Parameter]
    public bool Open { get; set; }

    private string Called => string.IsNullOrWhiteSpace(Line.Name) ? "the new canal" : Line.Name;

    private bool IsOpen => Open || string.IsNullOrWhiteSpace(Line.Name) || Line.Parent is { Length: > 0 } || Line.Obstacles.Count > 0 || Line.Remove;

    // A parent that was typed and is not there any more stays shown, so that the refusal can be understood.
    private IEnumerable<string> Parents => Others.Append(Line.Parent ?? string.Empty).Where(name => name.Length > 0 && name != Line.Name).Distinct();

    private string Id(string field) => $"{Name.Replace('.', '-').Replace('[', '-').Replace("]", string.Empty, StringComparison.Ordinal)}-{field}";
}
