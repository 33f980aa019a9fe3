using Secondpass.Domain;
using Secondpass.Records;

namespace Secondpass.Job.Keeping;

/// <summary>The clinic key on paper: printed while all is well, typed in again when the file is lost.</summary>
public static class ClinicKeySheet
{
    /// <summary>The recovery sheet of a store.</summary>
    /// <param name="place">Where it is.</param>
    /// <param name="time">The clock.</param>
    /// <returns>Its text; or a refusal: nothing there, not reached, clinic key missing or wrong.</returns>
    public static Answer<string> Print(StorePlace place, TimeProvider time)
    {
        ArgumentNullException.ThrowIfNull(place);
        if (!place.OpenExisting(time).TryGet(out var store, out var refusal))
        {
            return refusal;
        }

        using (store)
        {
            return store.RecoverySheet();
        }
    }

    /// <summary>Puts the clinic key back into the data folder, and opens the store with it.</summary>
    /// <param name="place">Where the store is.</param>
    /// <param name="sheet">The sheet, or its groups alone.</param>
    /// <param name="time">The clock.</param>
    /// <returns>A sentence that says what was done; or a refusal: a group is misread, it is another clinic's key, not writable, not reached.</returns>
    public static Answer<string> Restore(StorePlace place, string sheet, TimeProvider time)
    {
        ArgumentNullException.ThrowIfNull(place);
        if (!ClinicStore.RestoreKey(place.Folder, sheet, time).TryGet(out var fingerprint, out var refusal)
            || !place.OpenExisting(time).TryGet(out var store, out refusal))
        {
            return refusal;
        }

        store.Dispose();
        return $"The clinic key {fingerprint} is in the data folder again, and the store opens with it.\n";
    }
}
