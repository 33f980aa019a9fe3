using Microsoft.AspNetCore.Components;
using Secondpass.Job.Documents;

namespace Secondpass.App.Pages.WhatIsLeft;

/// <summary>One next step for each canal of a kept result, as it was answered then.</summary>
public sealed partial class NextPassWords
{
    /// <summary>What was found.</summary>
    [Parameter]
    [EditorRequired]
    public CompareDocument Found { get; set; } = default!;
}
