using Secondpass.Domain.Cases;
using Secondpass.Exchange.Wording;

namespace Secondpass.Job.Cases;

/// <summary>What a patient agrees to before treatment, in sentences, as far as it follows from the case.</summary>
public static class Consent
{
    /// <summary>Whether the whole tooth is treated again or some roots are left alone, and why; and what exploration only costs.</summary>
    /// <param name="it">The case.</param>
    /// <returns>Sentences; none of the roots while no canals are noted, none of exploration while it was not agreed.</returns>
    public static IReadOnlyList<string> Of(DentalCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        return [.. OfRoots(it), .. OfExploration(it.Assessment)];
    }

    private static IReadOnlyList<string> OfRoots(DentalCase it)
    {
        var alone = RootState.LeftAlone(it);
        return it.Canals.Count == 0 ? []
            : alone.Count == 0 ? [$"All root canals of the {it.Tooth.Words} are treated again."]
            : [$"Not all roots of the {it.Tooth.Words} are treated again.", .. alone.Select(CanalWords.LeftAlone), "A root that is left alone can become ill later and need treatment then."];
    }

    private static IEnumerable<string> OfExploration(Assessment assessment)
    {
        if (assessment is { ExplorationOnlyAgreed: true, ExplorationFee: { } fee })
        {
            yield return $"Should the tooth turn out not to be restorable, treatment ends with the exploration. {(fee.MinorUnits == 0 ? "There is no fee for it" : $"Its fee is {fee.InWords}")}.";
        }
    }
}
