using Secondpass.Domain;
using Secondpass.Records;

namespace Secondpass.Job.Keeping;

/// <summary>Where a clinic's data are.</summary>
/// <param name="Folder">The data folder.</param>
/// <param name="Address">The address of a PostgreSQL database; null when everything is in the folder. May hold a password: never shown.</param>
public sealed record StorePlace(string Folder, string? Address)
{
    /// <inheritdoc/>
    public override string ToString() => Folder;

    /// <summary>Opens what is there; makes nothing where there is nothing.</summary>
    internal Answer<ClinicStore> OpenExisting(TimeProvider time) => Address is null && !File.Exists(Path.Combine(Folder, "secondpass.db"))
        ? new Refusal(
            "no_store_here",
            $"There is no Secondpass store in “{Path.GetFullPath(Folder)}”.",
            "Give the data folder with --data, or the address of the PostgreSQL database with --store.")
        : ClinicStore.Open(Folder, time, Address);
}
