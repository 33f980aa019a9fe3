using Secondpass.Domain;
using Secondpass.Domain.Cases;
using Secondpass.Exchange.Sheets;
using Secondpass.Job.Instruments;
using Secondpass.Records;

namespace Secondpass.Job.Plans;

/// <summary>The plan on paper for the tray: A5, tooth in words and patient number on every page.</summary>
/// <param name="store">Where the case is kept.</param>
/// <param name="instruments">The clinic's instruments.</param>
/// <param name="time">The clock.</param>
public sealed class PlanPaper(ClinicStore store, KeepInstruments instruments, TimeProvider time)
{
    /// <summary>The plan in use of a case.</summary>
    /// <param name="id">The case.</param>
    /// <returns>A PDF document; or a refusal: no such case, no plan in use.</returns>
    public Answer<byte[]> Of(string id)
    {
        if (!store.Cases.Read(new CaseId(id)).TryGet(out var it, out var refusal))
        {
            return refusal;
        }

        return it.Plan is { } plan
            ? PlanSheet.Write(new PlanSheetContent(it.Patient, it.Tooth, DateOnly.FromDateTime(time.GetLocalNow().DateTime), plan, instruments.Read().Kinds))
            : new Refusal("plan_not_here", $"There is no plan in use for the {it.Tooth.Words}.", "Choose one on the case's plan page first.");
    }

    /// <summary>A plan that was just made from a case file, which names no patient.</summary>
    /// <param name="inputs">What it was made from.</param>
    /// <param name="planned">The plan.</param>
    /// <param name="day">The day that stands on the sheet.</param>
    /// <returns>A PDF document.</returns>
    public static byte[] Of(PlanInputs inputs, PlannedRemoval planned, DateOnly day)
    {
        ArgumentNullException.ThrowIfNull(inputs);
        ArgumentNullException.ThrowIfNull(planned);
        return PlanSheet.Write(new PlanSheetContent(null, inputs.Request.Tooth, day, planned.Plan, inputs.Request.Kinds));
    }
}
