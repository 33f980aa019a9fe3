using System.Data.Common;
using Microsoft.Data.Sqlite;
using Npgsql;
using Secondpass.Records;
using Secondpass.Records.Databases;
using Secondpass.Records.Postgres;
using Secondpass.Records.Sqlite;

namespace Secondpass.Tests.Records;

/// <summary>The kinds of database that every law of the store is checked on.</summary>
public enum StoreKind
{
    Sqlite,
    Postgres,
}

/// <summary>A data folder with a clock, on one kind of database.</summary>
internal sealed class StoreUnderTest : IDisposable
{
    private readonly TemporaryFolder folder = new();
    private readonly StoreKind kind;

    public StoreUnderTest(StoreKind kind)
    {
        this.kind = kind;
        Address = kind == StoreKind.Postgres ? PostgresCluster.NewDatabase() : null;
    }

    public SetClock Clock { get; } = new();

    /// <summary>The address of the database; null for the file in the folder.</summary>
    public string? Address { get; }

    public string Folder => folder.Path;

    public string Of(params string[] parts) => folder.Of(parts);

    public ClinicStore Open() => ClinicStore.Open(Folder, Clock, Address).Value;

    public IDatabase Database() => kind == StoreKind.Postgres ? PostgresDatabase.From(Address!).Value : new SqliteDatabase(Of("secondpass.db"));

    /// <summary>Runs a statement behind the store's back. Binary constants are written x'…' in both kinds.</summary>
    public void Execute(string sql)
    {
        using var database = Database();
        using DbConnection connection = kind == StoreKind.Postgres ? database.Connect() : new SqliteConnection($"Data Source={Of("secondpass.db")};Pooling=False");
        if (connection is SqliteConnection)
        {
            connection.Open();
        }

        using var command = connection.CreateCommand();
        command.CommandText = connection is NpgsqlConnection ? sql.Replace("x'", "'\\x", StringComparison.Ordinal) : sql;
        command.ExecuteNonQuery();
    }

    /// <summary>What the first column of a query holds.</summary>
    public IReadOnlyList<T> Column<T>(string sql)
    {
        using var database = Database();
        using var connection = database.Connect();
        using var transaction = database.BeginRead(connection);
        return transaction.Rows(sql, row => row.GetFieldValue<T>(0));
    }

    /// <summary>Whether bytes stand anywhere in the files of the database.</summary>
    public bool Holds(ReadOnlySpan<byte> bytes)
    {
        foreach (var file in Files())
        {
            using var stream = new FileStream(file, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
            using var content = new MemoryStream();
            stream.CopyTo(content);
            if (content.GetBuffer().AsSpan(0, (int)content.Length).IndexOf(bytes) >= 0)
            {
                return true;
            }
        }

        return false;
    }

    // A server's log of changes is not its tables' and is written over in its own time.
    private string[] Files()
    {
        if (kind == StoreKind.Sqlite)
        {
            return Directory.GetFiles(Folder, "secondpass.db*");
        }

        Execute("CHECKPOINT");
        var place = Column<string>("SELECT current_setting('data_directory') || '/base/' || oid FROM pg_database WHERE datname = current_database()");
        return Directory.GetFiles(place.Single());
    }

    public void Dispose() => folder.Dispose();
}
