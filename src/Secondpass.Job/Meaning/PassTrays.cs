using Secondpass.Domain.Cases;
using Secondpass.Job.Documents;
using Secondpass.Job.Instruments;
using Secondpass.Job.Plans;
using Secondpass.Records;

namespace Secondpass.Job.Meaning;

/// <summary>Looks up what another pass would be made with.</summary>
/// <param name="store">Where cases are kept.</param>
/// <param name="instruments">The clinic's instruments with their uses.</param>
public sealed class PassTrays(ClinicStore store, KeepInstruments instruments)
{
    /// <summary>The tray of a case; the clinic's where there is no case, it can't be read, or its tooth is another than the one marked.</summary>
    /// <param name="caseId">The case; null or empty for none.</param>
    /// <param name="marked">What was marked.</param>
    public PassTray Of(string? caseId, MarkedCase marked)
    {
        ArgumentNullException.ThrowIfNull(marked);
        var clinic = instruments.Read();
        return !string.IsNullOrEmpty(caseId) && store.Cases.Read(new CaseId(caseId)).TryGet(out var it, out _) && (marked.Tooth is not { } tooth || tooth == it.Tooth)
            ? PassTray.Of(it, PlanForCase.Said(it, it.PlanSettings, clinic))
            : PassTray.Of(marked.Planning with { Clinic = clinic });
    }
}
