using Secondpass.Domain.Chairside;

namespace Secondpass.Domain.Cases;

/// <summary>The steps of a case, in order.</summary>
public enum CaseStep
{
    /// <summary>Who sent it, why, and what matters before treatment.</summary>
    Referral,

    /// <summary>How the tooth stands.</summary>
    Assessment,

    /// <summary>What is filled, what is not, what is expected.</summary>
    Canals,

    /// <summary>How the old filling comes out.</summary>
    Plan,

    /// <summary>What was done at the chair.</summary>
    Visit,

    /// <summary>What two films show to be left.</summary>
    WhatIsLeft,

    /// <summary>What the visit ended with.</summary>
    Finish,

    /// <summary>The reply to the colleague.</summary>
    Letter,
}

/// <summary>How far a case is.</summary>
public static class CaseProgress
{
    /// <summary>Whether something was entered at a step.</summary>
    public static bool IsDone(this DentalCase it, CaseStep step)
    {
        ArgumentNullException.ThrowIfNull(it);
        return step switch
        {
            CaseStep.Referral => true,
            CaseStep.Assessment => it.Assessment.Apical != ApicalDiagnosis.NotYet && it.Assessment.RestorableBefore != Restorability.NotYet,
            CaseStep.Canals => it.Canals.Count > 0,
            CaseStep.Plan => it.Plan is not null,
            CaseStep.Visit => it.Chairside.OfType<MomentMarked>().Any(moment => moment.Mark is ChairsideMark.Left or ChairsideMark.ShapingEnd),
            CaseStep.WhatIsLeft => it.Comparisons.Count > 0,
            CaseStep.Finish => it.Finishes.Values.Any(note => note.Finished),
            _ => it.Letters.Count > 0,
        };
    }

    /// <summary>The first step after the latest one at which something was entered; null once the letter is written.</summary>
    /// <remarks>
    /// A step that was passed over is not proposed again: the tooth went on without it. What is left is proposed only when films from
    /// before and from during or after are there anyway: no film is taken for a program's sake.
    /// </remarks>
    public static CaseStep? NextStep(this DentalCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        var canCompare = it.Films.Any(film => film.Moment == FilmMoment.Before) && it.Films.Any(film => film.Moment is FilmMoment.During or FilmMoment.After);
        var steps = Enum.GetValues<CaseStep>();
        var latest = steps.Last(it.IsDone);
        return steps.Where(step => step > latest && (step != CaseStep.WhatIsLeft || canCompare)).Cast<CaseStep?>().FirstOrDefault();
    }
}
