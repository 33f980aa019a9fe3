using System.Globalization;
using Secondpass.Domain;
using Secondpass.Job.Cases;

namespace Secondpass.Job.Keeping;

/// <summary>Forgets a patient for good: what was noted about them can't be read any more, and that it was done stays on record.</summary>
public static class ForgetPatient
{
    /// <summary>Forgets a patient. Local law may say how long a record has to be kept: that is for the clinic to know.</summary>
    /// <param name="place">Where the store is.</param>
    /// <param name="patientNumber">The clinic's own patient number, exactly as in the list of cases.</param>
    /// <param name="by">Who forgets them.</param>
    /// <param name="time">The clock.</param>
    /// <returns>A sentence that says what was done; or a refusal: no such patient, nothing there, not reached.</returns>
    public static Answer<string> Forget(StorePlace place, string patientNumber, Writer by, TimeProvider time)
    {
        ArgumentNullException.ThrowIfNull(place);
        ArgumentNullException.ThrowIfNull(by);
        if (!place.OpenExisting(time).TryGet(out var store, out var refusal))
        {
            return refusal;
        }

        using (store)
        {
            return store.Cases.ForgetPatient(patientNumber, by.Author).TryGet(out var cases, out refusal)
                ? string.Create(CultureInfo.InvariantCulture, $"Patient “{patientNumber}” is forgotten: {cases} {(cases == 1 ? "case" : "cases")} can't be read any more, and the files that only they needed are deleted. Older backups still hold them.\n")
                : refusal;
        }
    }
}
