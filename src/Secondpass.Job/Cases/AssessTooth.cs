using Secondpass.Domain;
using Secondpass.Domain.Cases;
using Secondpass.Records;

namespace Secondpass.Job.Cases;

/// <summary>Second stage of a case: how the tooth stands, and whether it should be treated at all.</summary>
/// <param name="store">Where it is kept.</param>
/// <param name="time">The clock: no treatment was done in a year to come.</param>
public sealed class AssessTooth(ClinicStore store, TimeProvider time)
{
    /// <summary>Notes an assessment.</summary>
    /// <param name="id">The case.</param>
    /// <param name="form">The assessment as typed.</param>
    /// <param name="by">Who assesses.</param>
    /// <returns>The case; or a refusal: a value that can't be, an isolated deep pocket that nobody thought about, a fee that its currency doesn't have, exploration without a fee, changed meanwhile.</returns>
    public Answer<DentalCase> Assess(CaseId id, AssessmentForm form, Writer by)
    {
        ArgumentNullException.ThrowIfNull(form);
        ArgumentNullException.ThrowIfNull(by);
        return store.Cases.Read(id).TryGet(out var it, out var refusal)
            && form.Read(time.GetLocalNow().Year, FeeCurrencyCode(it, form.FeeIsInClinicCurrency)).TryGet(out var assessment, out refusal)
            ? store.Cases.Append(id, form.Version, by.Author, [new ToothAssessed(assessment)])
            : refusal;
    }

    /// <summary>The clinic's currency of now, in three letters of ISO 4217; null when none is set.</summary>
    public string? ClinicCurrencyCode => store.Clinic.Read().CurrencyCode;

    /// <summary>The currency that the fee for exploration is in: a fee noted already keeps its own, also none, until it is said to be in the clinic's of now.</summary>
    /// <param name="it">The case.</param>
    /// <param name="isInClinicCurrency">Whether that is said.</param>
    /// <returns>Its three letters in ISO 4217; null for none.</returns>
    public string? FeeCurrencyCode(DentalCase it, bool isInClinicCurrency)
    {
        ArgumentNullException.ThrowIfNull(it);
        return it.Assessment.ExplorationFee is { } noted && !isInClinicCurrency ? noted.CurrencyCode : ClinicCurrencyCode;
    }
}
