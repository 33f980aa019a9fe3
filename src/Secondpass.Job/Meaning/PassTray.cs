using Secondpass.Domain.Cases;
using Secondpass.Domain.Clinics;
using Secondpass.Domain.Instruments;
using Secondpass.Job.Documents;

namespace Secondpass.Job.Meaning;

/// <summary>The instruments that another pass would be made with, and what is known of the tooth besides the two films.</summary>
/// <param name="Called">The tray in words, such as "the plan's instruments".</param>
/// <param name="Kinds">Its kinds, in order.</param>
/// <param name="Planning">What is known of the canals, and the clinic's limits.</param>
public sealed record PassTray(string Called, IReadOnlyList<InstrumentKind> Kinds, CasePlanning Planning)
{
    /// <summary>The tray where no case is known: what the clinic has with uses left, or while it entered no stock what its first sequence names.</summary>
    /// <param name="planning">What was said beside the films, with the clinic.</param>
    public static PassTray Of(CasePlanning planning)
    {
        ArgumentNullException.ThrowIfNull(planning);
        var clinic = planning.Clinic;
        if (clinic.Items.All(item => item.Retired))
        {
            return clinic.Sequences.Count == 0
                ? new PassTray("no instruments: none are entered", [], planning)
                : new PassTray($"the instruments of “{clinic.Sequences[0].Name}”", ByCode(clinic, clinic.Sequences[0].Steps.Select(step => step.KindCode)), planning);
        }

        var withLife = clinic.Kinds.Where(kind => clinic.Items.Any(item => item.KindCode == kind.Code && item.HasLifeLeft(kind)));
        return new PassTray("the instruments in stock with uses left", [.. withLife], planning);
    }

    /// <summary>The tray of a case: the instruments of the plan in use; else as without a case.</summary>
    /// <param name="it">The case.</param>
    /// <param name="planning">What is known of its canals, with the clinic.</param>
    public static PassTray Of(DentalCase it, CasePlanning planning)
    {
        ArgumentNullException.ThrowIfNull(it);
        ArgumentNullException.ThrowIfNull(planning);
        var planned = it.Plan?.Steps.Select(step => step.KindCode).OfType<string>().ToList() ?? [];
        return planned.Count == 0 ? Of(planning) : new PassTray("the instruments of the plan", ByCode(planning.Clinic, planned), planning);
    }

    private static List<InstrumentKind> ByCode(Clinic clinic, IEnumerable<string> codes) =>
        [.. codes.Distinct().Select(code => clinic.Kinds.FirstOrDefault(kind => kind.Code == code)).OfType<InstrumentKind>()];
}
