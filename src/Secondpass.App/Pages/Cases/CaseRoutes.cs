using Secondpass.Domain.Cases;

namespace Secondpass.App.Pages.Cases;

/// <summary>Where the steps of a case are, and how they are called.</summary>
internal static class CaseRoutes
{
    /// <summary>The overview of a case.</summary>
    public static string Of(CaseId id) => $"/cases/{id}";

    /// <summary>The films of a case.</summary>
    public static string FilmsOf(CaseId id) => $"/cases/{id}/films";

    /// <summary>The page of a step.</summary>
    public static string Of(CaseId id, CaseStep step) => step switch
    {
        CaseStep.WhatIsLeft => $"/what-is-left?case={id}",
        _ => $"/cases/{id}/{step.ToString().ToLowerInvariant()}",
    };

    /// <summary>A step's name.</summary>
    public static string Name(CaseStep step) => step == CaseStep.WhatIsLeft ? "What is left" : step.ToString();
}
