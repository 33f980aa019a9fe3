using Secondpass.Domain;
using Secondpass.Records.Events;

namespace Secondpass.Records;

/// <summary>Every refusal of the store, worded in one place.</summary>
internal static class StoreRefusals
{
    private const int DiskFullUnix = 28;
    private const int QuotaExceededUnix = 122;
    private const int DiskFullWindows = unchecked((int)0x80070070);
    private const int HandleDiskFullWindows = unchecked((int)0x80070027);

    public static Refusal DiskFull(string folder) => new(
        "disk_full",
        $"The disk that holds “{folder}” is full; nothing was stored.",
        "Free some space and do it again; what was stored before is untouched.");

    public static Refusal NotWritable(string folder) => new(
        "data_folder_not_writable",
        $"The data folder “{folder}” can't be written.",
        "Give this user the right to write there, or start with --data and another folder.");

    public static Refusal NewerStore(string name, int reached, int newest) => new(
        "store_is_newer",
        FormattableString.Invariant($"The data in “{name}” was written by a newer Secondpass (its step {reached}; this one knows up to {newest})."),
        "Start the newer Secondpass again, or start this one with --data and another folder. Nothing was changed.");

    public static Refusal OlderStore(string name, int reached, int newest) => new(
        "store_is_older",
        FormattableString.Invariant($"The data in “{name}” was written by an older Secondpass (its step {reached}; this one checks step {newest})."),
        "Verify it with the Secondpass that wrote it. Or start this one with it, which first puts a copy beside it and then brings it up to date; then verify again. Nothing was changed.");

    public static Refusal NoStore(string name) => new(
        "no_store_here",
        $"There is no Secondpass store in “{name}”.",
        "Give the data folder with --data, or the address of the PostgreSQL database with --store.");

    public static Refusal NewerKind(string name, string kind, int version) => new(
        "store_is_newer",
        FormattableString.Invariant($"The data in “{name}” was written by a newer Secondpass (it holds {kind} of version {version}, which this one doesn't know)."),
        "Start the newer Secondpass again, or start this one with --data and another folder. Nothing was changed.");

    public static Refusal NotReached(string name) => new(
        "store_not_reached",
        $"{name} can't be reached, or the connection was lost.",
        "Check that the server runs and that this computer reaches it. Whether the last change was stored is not certain: look before making it again.");

    public static Refusal SignInRefused(string name) => new(
        "store_sign_in_refused",
        $"{name} doesn't take this user name or password.",
        "Check both in --store or SECONDPASS_STORE.");

    public static Refusal NoSuchDatabase(string name) => new(
        "store_no_such_database",
        $"{name}: the server has no database of this name.",
        "Have it created there (CREATE DATABASE …), or check the name in --store or SECONDPASS_STORE.");

    public static Refusal NotAllowed(string name) => new(
        "store_not_writable",
        $"{name} doesn't let this user create or write the tables.",
        "Make the user the owner of the database, or grant CREATE on its schema.");

    public static Refusal ServerDiskFull(string name) => new(
        "disk_full",
        $"The disk of {name} is full; nothing was stored.",
        "Free some space there and do it again; what was stored before is untouched.");

    public static Refusal Damaged(string file) => new(
        "store_damaged",
        $"“{file}” is damaged or is not a Secondpass store.",
        "Put a copy of the data folder back from your backup. Nothing was changed.");

    public static Refusal Busy(string file) => new(
        "store_busy",
        $"Another program holds “{file}”.",
        "Close the other Secondpass that uses this data folder, then do it again.");

    public static Refusal KeysBeingRead(string name) => new(
        "keys_being_read",
        $"Somebody else is reading the patients' keys in {name}. The patient was not forgotten; nothing was changed.",
        "Try again in a moment. If it stays so, close the other Secondpass and any copy of the database that is being made.");

    public static Refusal ChangedMeanwhile(string stream, long expectedVersion, long foundVersion) => new(
        "changed_meanwhile",
        FormattableString.Invariant($"“{stream}” was changed meanwhile: this change was made to its version {expectedVersion}, and it stands at {foundVersion}."),
        "Look at it again, then make the change anew if it is still right.");

    public static Refusal KeyMissing(string file, string name) => new(
        "clinic_key_missing",
        $"The clinic key “{file}” is missing; without it the cases in “{name}” can't be read.",
        "Put the file back from your backup, or type the recovery sheet into a text file and run: secondpass key --restore FILE. Nothing was changed.");

    public static Refusal KeyWrong(string file, string name) => new(
        "clinic_key_wrong",
        $"The clinic key “{file}” is not the one that the cases in “{name}” were written with.",
        "Put the right file back from your backup, or type this clinic's own recovery sheet into a text file and run: secondpass key --restore FILE. Nothing was changed.");

    public static Refusal KeyUnreadable(string file, Refusal why) => new(
        "clinic_key_unreadable",
        $"The clinic key “{file}” can't be read: {why.Reason}",
        "Put the file back from your backup, or type the recovery sheet into a text file and run: secondpass key --restore FILE. Nothing was changed.");

    public static Refusal PatientForgotten() => new(
        "patient_forgotten",
        "The patient of this case was forgotten: what was noted can't be read any more.",
        "Nothing brings it back here; that was its purpose.");

    public static Refusal EventDamaged(StoredEvent stored) => new(
        "event_damaged",
        FormattableString.Invariant($"What was noted as number {stored.Version} of “{stored.Stream}” is not what was stored: it was changed or damaged."),
        "Run: secondpass verify, which names everything that is damaged first; then put a copy of the data folder back from your backup.",
        new Dictionary<string, double> { ["version"] = stored.Version });

    /// <summary>The refusal that a failure to write a file amounts to, or null when the failure is something else.</summary>
    public static Refusal? From(Exception failure, string folder) => failure switch
    {
        IOException { HResult: DiskFullUnix or QuotaExceededUnix or DiskFullWindows or HandleDiskFullWindows } => DiskFull(folder),
        UnauthorizedAccessException => NotWritable(folder),
        _ => null,
    };
}
