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

    public void Dispose() => folder.Dispose();
}
