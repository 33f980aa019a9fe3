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
    /// <returns>The case; or a refusal: a value that can't be, an isolated deep pocket that nobody thought about, exploration without a fee, changed meanwhile.</returns>
    public Answer<DentalCase> Assess(CaseId id, AssessmentForm form, Writer by)
    {
        ArgumentNullException.ThrowIfNull(form);
        ArgumentNullException.ThrowIfNull(by);
        return form.Read(time.GetLocalNow().Year).TryGet(out var assessment, out var refusal)
            ? store.Cases.Append(id, form.Version, by.Author, [new ToothAssessed(assessment)])
            : refusal;
    }
}
