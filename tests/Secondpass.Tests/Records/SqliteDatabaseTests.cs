using Microsoft.Data.Sqlite;
using Secondpass.Records;
using Secondpass.Records.Sqlite;

namespace Secondpass.Tests.Records;

public sealed class SqliteDatabaseTests : IDisposable
{
    private readonly TemporaryFolder folder = new();

    public void Dispose() => folder.Dispose();

    // Primary result codes: sqlite.org/rescode.html.
    [Theory]
    [InlineData(13, "disk_full", "The disk that holds “/data” is full; nothing was stored.")]
    [InlineData(8, "data_folder_not_writable", "The data folder “/data” can't be written.")]
    [InlineData(14, "data_folder_not_writable", "The data folder “/data” can't be written.")]
    [InlineData(5, "store_busy", "Another program holds “/data/secondpass.db”.")]
    [InlineData(11, "store_damaged", "“/data/secondpass.db” is damaged or is not a Secondpass store.")]
    [InlineData(26, "store_damaged", "“/data/secondpass.db” is damaged or is not a Secondpass store.")]
    public void Words_what_the_database_can_fail_with(int code, string word, string reason)
    {
        using var database = new SqliteDatabase("/data/secondpass.db");
        var refusal = database.RefusalFrom(new SqliteException("as the driver says", code));

        Assert.Equal(word, refusal!.Code);
        Assert.Equal(reason, refusal.Reason);
    }

    [Fact]
    public void Leaves_a_defect_an_exception()
    {
        using var database = new SqliteDatabase("/data/secondpass.db");

        Assert.Null(database.RefusalFrom(new SqliteException("syntax error", 1)));
    }

    [Fact]
    public void Refuses_a_file_that_is_no_store()
    {
        File.WriteAllText(folder.Of("secondpass.db"), new string('x', 5000));

        var refusal = ClinicStore.Open(folder.Path, new SetClock()).Refusal;

        Assert.Equal("store_damaged", refusal.Code);
        Assert.Equal($"“{folder.Of("secondpass.db")}” is damaged or is not a Secondpass store.", refusal.Reason);
        Assert.False(File.Exists(folder.Of("clinic.key")));
    }
}
