using Microsoft.AspNetCore.Components;
using Secondpass.Job;
using Secondpass.Job.Documents;

namespace Secondpass.App.Pages.WhatIsLeft;

/// <summary>Published figures of filling left, each third's beside what was found in this tooth.</summary>
public sealed partial class PublishedBeside
{
    /// <summary>What was found; null where the page's script writes it.</summary>
    [Parameter]
    public CompareDocument? Found { get; set; }

    // Coronal, middle, apical, whole: as the published ones come.
    private string Own(int index) => Found is null
        ? string.Empty
        : "Here: " + string.Join("; ", Found.Canals.Where(canal => canal.Status == "ok").Select(canal => $"{canal.Name} {Share(canal, index)}")) + ".";

    private static string Share(ComparedCanalDocument canal, int index) => index switch
    {
        0 => Share(canal.Thirds.Coronal),
        1 => Share(canal.Thirds.Middle),
        2 => Share(canal.Thirds.Apical),
        _ => KeptRecord.Share(canal.MassPercent, canal.MassInterval, canal.AreaPercent, canal.AreaInterval),
    };

    private static string Share(ThirdDocument? third) => third is null
        ? "no filling of its own here before"
        : KeptRecord.Share(third.MassPercent, third.MassInterval, third.AreaPercent, third.AreaInterval);
}
