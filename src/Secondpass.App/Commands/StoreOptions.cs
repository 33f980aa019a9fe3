using Secondpass.App.Api;
using Secondpass.Job.Keeping;

namespace Secondpass.App.Commands;

/// <summary>Where the data are, for all verbs that open them.</summary>
internal static class StoreOptions
{
    /// <summary>The environment variable that names the store where the option doesn't: a password in it is not seen in the list of processes.</summary>
    public const string AddressVariable = "SECONDPASS_STORE";

    /// <summary>The data folder.</summary>
    public static VerbOption Data { get; } = new("--data", "DIR", "Keeps everything in this folder. Without it: a folder of your user account.");

    /// <summary>The database.</summary>
    public static VerbOption Store { get; } = new("--store", "URL", $"Keeps what is noted in a PostgreSQL database, such as postgres://user@server/database; files stay in the data folder. Better in the environment variable {AddressVariable} where it holds a password. Without both: a database in the data folder.");

    /// <summary>What a call names.</summary>
    public static StorePlace Of(VerbCall call) => new(call.Value(Data) ?? DataFolders.OfThisUser(demo: false), AddressOf(call));

    /// <summary>The address of the database that a call or the environment names, or null.</summary>
    public static string? AddressOf(VerbCall call) =>
        call.Value(Store) ?? (Environment.GetEnvironmentVariable(AddressVariable) is { Length: > 0 } address ? address : null);
}
