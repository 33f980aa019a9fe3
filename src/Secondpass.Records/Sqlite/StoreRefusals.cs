using Microsoft.Data.Sqlite;
using Secondpass.Domain;

namespace Secondpass.Records.Sqlite;

/// <summary>Every refusal of the store, worded in one place.</summary>
internal static class StoreRefusals
{
    private const int DiskFullUnix = 28;
    private const int QuotaExceededUnix = 122;
    private const int DiskFullWindows = unchecked((int)0x80070070);
    private const int HandleDiskFullWindows = unchecked((int)0x80070027);

    private const int SqliteBusy = 5;
    private const int SqliteReadOnly = 8;
    private const int SqliteCorrupt = 11;
    private const int SqliteFull = 13;
    private const int SqliteCannotOpen = 14;
    private const int SqliteNotADatabase = 26;

    public static Refusal DiskFull(string folder) => new(
        "disk_full",
        $"The disk that holds “{folder}” is full; nothing was stored.",
        "Free some space and do it again; what was stored before is untouched.");

    public static Refusal NotWritable(string folder) => new(
        "data_folder_not_writable",
        $"The data folder “{folder}” can't be written.",
        "Give this user the right to write there, or start with --data and another folder.");

    public static Refusal NewerStore(string folder, int reached, int newest) => new(
        "store_is_newer",
        FormattableString.Invariant($"The data in “{folder}” was written by a newer Secondpass (its step {reached}; this one knows up to {newest})."),
        "Start the newer Secondpass again, or start this one with --data and another folder. Nothing was changed.");

    public static Refusal Damaged(string file) => new(
        "store_damaged",
        $"“{file}” is damaged or is not a Secondpass store.",
        "Put a copy of the data folder back from your backup. Nothing was changed.");

    public static Refusal Busy(string file) => new(
        "store_busy",
        $"Another program holds “{file}”.",
        "Close the other Secondpass that uses this data folder, then do it again.");

    public static Refusal ChangedMeanwhile(string stream, long expectedVersion, long foundVersion) => new(
        "changed_meanwhile",
        FormattableString.Invariant($"“{stream}” was changed meanwhile: this change was made to its version {expectedVersion}, and it stands at {foundVersion}."),
        "Look at it again, then make the change anew if it is still right.");

    /// <summary>The refusal that a failure to write a file amounts to, or null when the failure is something else.</summary>
    public static Refusal? From(Exception failure, string folder) => failure switch
    {
        IOException { HResult: DiskFullUnix or QuotaExceededUnix or DiskFullWindows or HandleDiskFullWindows } => DiskFull(folder),
        UnauthorizedAccessException => NotWritable(folder),
        _ => null,
    };

    /// <summary>The refusal that a failure of the database amounts to, or null when the failure is a defect.</summary>
    public static Refusal? From(SqliteException failure, string file) => failure.SqliteErrorCode switch
    {
        SqliteFull => DiskFull(Path.GetDirectoryName(file)!),
        SqliteReadOnly or SqliteCannotOpen => NotWritable(Path.GetDirectoryName(file)!),
        SqliteBusy => Busy(file),
        SqliteCorrupt or SqliteNotADatabase => Damaged(file),
        _ => null,
    };
}
