using System.Data.Common;
using System.Globalization;
using Microsoft.Data.Sqlite;
using Secondpass.Domain;
using Secondpass.Records.Databases;

namespace Secondpass.Records.Sqlite;

/// <summary>A database in one file of the data folder.</summary>
/// <remarks>Writers wait for each other up to five seconds; readers never wait.</remarks>
internal sealed class SqliteDatabase : IDatabase
{
    private const int Busy = 5;
    private const int ReadOnly = 8;
    private const int Corrupt = 11;
    private const int Full = 13;
    private const int CannotOpen = 14;
    private const int NotADatabase = 26;

    private readonly string file;
    private readonly string connectionText;
    private readonly bool readsOnly;

    /// <summary>A database in this file, made when it is missing.</summary>
    public SqliteDatabase(string file)
        : this(file, new SqliteConnectionStringBuilder { DataSource = file, DefaultTimeout = 5, ForeignKeys = true }, readsOnly: false)
    {
    }

    private SqliteDatabase(string file, SqliteConnectionStringBuilder settings, bool readsOnly)
    {
        this.file = file;
        connectionText = settings.ToString();
        this.readsOnly = readsOnly;
    }

    /// <summary>A database in this file, which must be there, to be read without changing a byte of it.</summary>
    /// <remarks>
    /// Where no log of changes lies beside it no program has it open; it is then opened as a file that nobody changes, since
    /// reading it otherwise would make the log and its index anew.
    /// </remarks>
    public static SqliteDatabase ToRead(string file) => new(
        file,
        new SqliteConnectionStringBuilder
        {
            DataSource = File.Exists(file + "-wal") ? file : AddressOfUnchanging(file),
            Mode = SqliteOpenMode.ReadOnly,
            DefaultTimeout = 5,
            Pooling = false,
        },
        readsOnly: true);

    /// <inheritdoc/>
    public string Name => file;

    /// <inheritdoc/>
    public string Dialect => "Sqlite";

    private string Folder => Path.GetDirectoryName(file)!;

    /// <inheritdoc/>
    public DbConnection Connect()
    {
        var connection = new SqliteConnection(connectionText);
        try
        {
            connection.Open();
            if (readsOnly)
            {
                return connection;
            }

            using var settings = connection.Command("PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; PRAGMA secure_delete = ON;");
            settings.ExecuteNonQuery();
            return connection;
        }
        catch (SqliteException)
        {
            connection.Dispose();
            throw;
        }
    }

    /// <inheritdoc/>
    public DbTransaction BeginWrite(DbConnection connection) => ((SqliteConnection)connection).BeginTransaction(deferred: false);

    /// <inheritdoc/>
    public DbTransaction BeginRead(DbConnection connection) => ((SqliteConnection)connection).BeginTransaction(deferred: true);

    /// <inheritdoc/>
    public bool HasTable(DbConnection connection, string table)
    {
        using var asked = connection.Command("SELECT count(*) FROM sqlite_master WHERE type = 'table' AND name = @table", ("@table", table));
        return Convert.ToInt64(asked.ExecuteScalar(), CultureInfo.InvariantCulture) > 0;
    }

    /// <inheritdoc/>
    public void CopyBefore(DbConnection connection, int reached, DateTimeOffset now)
    {
        var name = string.Create(CultureInfo.InvariantCulture, $"{Path.GetFileNameWithoutExtension(file)}-copy-of-step-{reached}-{now:yyyyMMdd-HHmmss}.db");
        var part = Path.Combine(Folder, Identity.New() + ".part");
        try
        {
            using var copy = connection.Command("VACUUM INTO @part", ("@part", part));
            copy.ExecuteNonQuery();
            File.Move(part, Path.Combine(Folder, name), overwrite: true);
        }
        finally
        {
            File.Delete(part);
        }
    }

    /// <inheritdoc/>
    public Refusal? ScrubKeys(DbTransaction transaction) => null; // the deleting itself overwrote the rows in their pages

    /// <inheritdoc/>
    public void EmptyLog()
    {
        using var connection = Connect();
        using var emptied = connection.Command("PRAGMA wal_checkpoint(TRUNCATE)");
        emptied.ExecuteNonQuery();
    }

    /// <inheritdoc/>
    public Refusal? RefusalFrom(Exception failure) => failure switch
    {
        SqliteException { SqliteErrorCode: Full } => StoreRefusals.DiskFull(Folder),
        SqliteException { SqliteErrorCode: ReadOnly or CannotOpen } => StoreRefusals.NotWritable(Folder),
        SqliteException { SqliteErrorCode: Busy } => StoreRefusals.Busy(file),
        SqliteException { SqliteErrorCode: Corrupt or NotADatabase } => StoreRefusals.Damaged(file),
        _ => StoreRefusals.From(failure, Folder),
    };

    /// <inheritdoc/>
    public void Dispose()
    {
        using var connection = new SqliteConnection(connectionText);
        SqliteConnection.ClearPool(connection);
    }

    // As SQLite's documentation of URI file names says (sqlite.org/uri.html).
    private static string AddressOfUnchanging(string file)
    {
        var path = string.Join('/', Path.GetFullPath(file).Replace(Path.DirectorySeparatorChar, '/').Split('/').Select(Uri.EscapeDataString));
        return $"file://{(path.StartsWith('/') ? string.Empty : "/")}{path}?immutable=1";
    }
}
