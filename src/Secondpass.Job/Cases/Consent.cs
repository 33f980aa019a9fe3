using Secondpass.Domain.Cases;
using Secondpass.Exchange.Wording;

namespace Secondpass.Job.Cases;

/// <summary>What a patient agrees to before treatment, in sentences, as far as it follows from the case.</summary>
public static class Consent
{
    /// <summary>Whether the whole tooth is treated again or some roots are left alone, and why.</summary>
    /// <param name="it">The case.</param>
    /// <returns>Sentences; none while no canals are noted.</returns>
    public static IReadOnlyList<string> Of(DentalCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        var alone = RootState.LeftAlone(it);
        return it.Canals.Count == 0 ? []
            : alone.Count == 0 ? [$"All root canals of the {it.Tooth.Words} are treated again."]
            : [$"Not all roots of the {it.Tooth.Words} are treated again.", .. alone.Select(CanalWords.LeftAlone), "A root that is left alone can become ill later and need treatment then."];
    }
}
