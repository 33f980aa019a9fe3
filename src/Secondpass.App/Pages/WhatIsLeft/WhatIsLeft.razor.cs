using Microsoft.AspNetCore.Components;
using Secondpass.App.Api;
using Secondpass.Job;

namespace Secondpass.App.Pages.WhatIsLeft;

/// <summary>Two films, a few clicks: what is left in each canal. What happens on it is in its script.</summary>
public sealed partial class WhatIsLeft
{
    [Inject]
    private KeptResults Results { get; set; } = default!;

    [Inject]
    private DemoExamples Demo { get; set; } = default!;

    private IReadOnlyList<string> Examples => [.. Demo.Folders.Keys];

    private int KeptCount => Results.All().Count;
}
