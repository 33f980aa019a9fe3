using Secondpass.Domain.Cases;
using Secondpass.Domain.Chairside;
using Secondpass.Domain.Plans;
using Secondpass.Job.Cases;

namespace Secondpass.App.Pages.Cases;

/// <summary>What was noted, in a few words.</summary>
internal static class CaseNoteWords
{
    /// <summary>One note.</summary>
    public static string Of(CaseEvent noted) => noted switch
    {
        CaseOpened => "case opened",
        ReferralChanged => "referral entered anew",
        HealthAnswered health => $"{HealthLine.InFewWords(health.Question)}: {(health.Answer.Yes ? "yes" : "no")}",
        PaperAttached paper => $"paper “{paper.File.Name}” attached",
        ToothAssessed => "tooth assessed",
        CanalsNoted canals => $"canals noted: {string.Join(", ", canals.Canals.Select(canal => canal.Name))}",
        ConeBeamRead => "cone-beam scan read",
        FilmMeasured => "canals measured on a film",
        ParallaxRead parallax => $"{parallax.Reading.Thing} compared on two films",
        ReferencePointLost lost => $"reference point “{lost.Name}” lost: {lost.Reason}",
        FilmAttached => "film attached",
        PhotographAttached photograph => $"photograph “{photograph.Photograph.Caption}” attached",
        ComparisonAttached => "what is left kept with the case",
        PlanChosen plan => $"plan “{plan.Plan.Name}” chosen",
        ChairsideEntry entry => $"chairside entry, visit {entry.Visit}",
        FinishNoted finish => $"finish note, visit {finish.Visit}",
        LetterMade => "letter made",
        _ => "something else noted",
    };
}
