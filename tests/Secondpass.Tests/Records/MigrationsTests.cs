using Secondpass.Domain.Cases;
using Secondpass.Domain.Instruments;
using Secondpass.Records;
using Secondpass.Records.Databases;
using Secondpass.Records.Events;

namespace Secondpass.Tests.Records;

public sealed class MigrationParityTests
{
    [Fact]
    public void Both_dialects_have_the_same_numbered_steps()
    {
        using var sqlite = new StoreUnderTest(StoreKind.Sqlite);
        using var postgres = new StoreUnderTest(StoreKind.Postgres);
        using var one = sqlite.Database();
        using var other = postgres.Database();

        Assert.Equal(new Migrations(one).Steps, new Migrations(other).Steps);
        Assert.Equal(Enumerable.Range(1, new Migrations(one).Newest), new Migrations(one).Steps.Select(step => step.Number));
        Assert.All(["Sqlite", "Postgres"], folder => Assert.Equal(
            new Migrations(one).Steps.Select(step => step.Name),
            Directory.GetFiles(Repository.At("src", "Secondpass.Records", folder), "*.sql").Select(Path.GetFileName).Order(StringComparer.Ordinal)));
    }

    [Fact]
    public void Both_dialects_make_the_same_tables_columns_keys_and_indexes()
    {
        using var sqlite = new StoreUnderTest(StoreKind.Sqlite);
        using var postgres = new StoreUnderTest(StoreKind.Postgres);
        sqlite.Open().Dispose();
        postgres.Open().Dispose();

        var ofSqlite = sqlite.Column<string>(
            """
            SELECT t.name || '.' || c.name || ' ' || replace(replace(replace(c.type, 'INTEGER', 'bigint'), 'BIGINT', 'bigint'), 'BLOB', 'bytea')
            FROM sqlite_master t, pragma_table_info(t.name) c
            WHERE t.type = 'table'
            """);
        var ofPostgres = postgres.Column<string>(
            "SELECT table_name || '.' || column_name || ' ' || data_type FROM information_schema.columns WHERE table_schema = current_schema()");
        Assert.Equal(
            ofSqlite.Select(column => column.Replace(" TEXT", " text", StringComparison.Ordinal)).Order(StringComparer.Ordinal),
            ofPostgres.Order(StringComparer.Ordinal));
        Assert.True(ofSqlite.Count > 30);

        // Unique over which columns, primary keys among them; and plain indexes.
        Assert.Equal(
            sqlite.Column<string>(
                """
                SELECT t.name || '(' || (SELECT group_concat(c.name, ',') FROM (SELECT name FROM pragma_index_info(i.name) ORDER BY seqno) c) || ') ' || i."unique"
                FROM sqlite_master t, pragma_index_list(t.name) i
                WHERE t.type = 'table'
                """)
                .Concat(["events(position) 1", "migrations(number) 1"])
                .Distinct()
                .Order(StringComparer.Ordinal),
            postgres.Column<string>(
                """
                SELECT t.relname || '(' || (SELECT string_agg(a.attname, ',' ORDER BY k.place) FROM unnest(i.indkey) WITH ORDINALITY AS k(number, place) JOIN pg_attribute a ON a.attrelid = t.oid AND a.attnum = k.number) || ') ' || i.indisunique::int
                FROM pg_index i JOIN pg_class t ON t.oid = i.indrelid JOIN pg_namespace n ON n.oid = t.relnamespace
                WHERE n.nspname = current_schema()
                """)
                .Distinct()
                .Order(StringComparer.Ordinal));
    }
}

public sealed class UpgradeOnSqliteTests() : UpgradeTests(StoreKind.Sqlite);

public sealed class UpgradeOnPostgresTests() : UpgradeTests(StoreKind.Postgres);

public abstract class UpgradeTests(StoreKind kind) : IDisposable
{
    private readonly StoreUnderTest place = new(kind);

    public void Dispose()
    {
        place.Dispose();
        GC.SuppressFinalize(this);
    }

    [Fact]
    public void A_store_of_the_first_version_is_copied_aside_and_then_brought_up_with_everything_in_it()
    {
        AsTheFirstVersionLeftIt();

        using var store = place.Open();

        Assert.True(store.NoticeAccepted);
        Assert.Equal("upper molar", Assert.Single(store.KeptComparisons()).Label);
        Assert.Equal(new ChainReport(2, 2, null), store.Check().Value);
        Assert.True(store.Cases.Open(CaseStoreTests.Opened("1"), CaseStoreTests.Ann).IsGiven);
        Assert.Equal(new ChainReport(3, 3, null), store.Check().Value);

        if (place.Address is null)
        {
            var copy = Assert.Single(Directory.GetFiles(place.Folder, "*copy*"));
            Assert.Equal("secondpass-copy-of-step-2-20260304-093000.db", Path.GetFileName(copy));
            using var kept = new Microsoft.Data.Sqlite.SqliteConnection($"Data Source={copy};Pooling=False;Mode=ReadOnly");
            kept.Open();
            using var command = kept.CreateCommand();
            command.CommandText = "SELECT (SELECT count(*) FROM events) * 10 + (SELECT max(number) FROM migrations)";
            Assert.Equal(22L, command.ExecuteScalar());
        }
        else
        {
            Assert.Equal([2L], place.Column<long>("SELECT count(*) FROM secondpass_copy_of_step_2_20260304_093000.events"));
            Assert.Equal([2L], place.Column<long>("SELECT max(number) FROM secondpass_copy_of_step_2_20260304_093000.migrations"));
        }
    }

    [Fact]
    public void A_store_that_did_not_keep_canals_of_uses_is_copied_aside_and_knows_them_afterwards()
    {
        using (var store = place.Open())
        {
            var stays = store.Cases.Open(CaseStoreTests.Opened("1"), CaseStoreTests.Ann).Value.Id;
            var goes = store.Cases.Open(CaseStoreTests.Opened("2"), CaseStoreTests.Ann).Value.Id;
            foreach (var (number, id, canal) in ((int, CaseId, string)[])[(1, stays, "MB1"), (2, stays, "MB2"), (3, stays, "MB2"), (4, goes, "P")])
            {
                store.Cases.AppendEntry(id, new EntryKey("chair", number), CaseStoreTests.Ann, CaseStoreTests.Step("item 7", 1) with { Canal = canal });
            }

            store.Cases.ForgetPatient("2", CaseStoreTests.Ann);
        }

        // As step 3 left it.
        place.Execute("ALTER TABLE instrument_uses DROP COLUMN canal");
        place.Execute("DELETE FROM migrations WHERE number = 4");

        using var upgraded = place.Open();

        Assert.Equal((3, 2), (upgraded.Cases.Uses("item 7", UseCount.PerCanal), upgraded.Cases.Uses("item 7", UseCount.PerToothAndVisit)));
        Assert.Null(upgraded.Check().Value.FirstBroken);
        if (place.Address is null)
        {
            Assert.Equal("secondpass-copy-of-step-3-20260304-093000.db", Path.GetFileName(Assert.Single(Directory.GetFiles(place.Folder, "*copy*"))));
        }
        else
        {
            Assert.Equal([3L], place.Column<long>("SELECT max(number) FROM secondpass_copy_of_step_3_20260304_093000.migrations"));
        }
    }

    [Fact]
    public void A_new_store_is_not_copied()
    {
        place.Open().Dispose();
        place.Open().Dispose();

        Assert.Empty(Directory.GetFiles(place.Folder, "*copy*"));
        if (place.Address is not null)
        {
            Assert.Empty(place.Column<string>("SELECT schema_name FROM information_schema.schemata WHERE schema_name LIKE 'secondpass%'"));
        }
    }

    [Fact]
    public void Refuses_a_store_of_a_newer_version_and_changes_nothing()
    {
        place.Open().Dispose();
        place.Execute("INSERT INTO migrations (number, name, utc_ticks) VALUES (7, '007-later.sql', 0)");

        var refusal = ClinicStore.Open(place.Folder, place.Clock, place.Address).Refusal;

        Assert.Equal("store_is_newer", refusal.Code);
        Assert.Equal($"The data in “{Name()}” was written by a newer Secondpass (its step 7; this one knows up to 4).", refusal.Reason);
        Assert.Equal("Start the newer Secondpass again, or start this one with --data and another folder. Nothing was changed.", refusal.Remedy);
    }

    [Fact]
    public void Refuses_a_store_that_holds_a_kind_of_event_of_a_newer_version()
    {
        place.Open().Dispose();
        place.Execute("INSERT INTO event_kinds (kind, kind_version) VALUES ('case_opened', 99)");

        var refusal = ClinicStore.Open(place.Folder, place.Clock, place.Address).Refusal;

        Assert.Equal("store_is_newer", refusal.Code);
        Assert.Equal($"The data in “{Name()}” was written by a newer Secondpass (it holds case_opened of version 99, which this one doesn't know).", refusal.Reason);
    }

    // Written out here as that version wrote it, so that nothing of today's code has a hand in it.
    private void AsTheFirstVersionLeftIt()
    {
        using (var database = place.Database())
        using (var connection = database.Connect())
        using (var transaction = database.BeginWrite(connection))
        {
            new Migrations(database).Run(transaction, 0, last: 2);
            transaction.Commit();
        }

        const string Device = "0123456789abcdef0123456789abcdef";
        place.Execute($"INSERT INTO store (name, value) VALUES ('device', '{Device}')");
        var notice = new StoredEvent("settings", 1, "notice_accepted", 1, 639_000_000_000_000_000, "local", Device, 1, "{}"u8.ToArray(), new byte[32]);
        var payload =
            $$"""
            {"label":"upper molar","before_sha256":"{{new string('a', 64)}}","after_sha256":"{{new string('b', 64)}}","case_document":"{}","comparison_document":"{}","sheet_sha256":"{{new string('c', 64)}}"}
            """;
        var kept = new StoredEvent("comparison/" + Device, 1, "comparison_kept", 1, 639_000_000_000_000_001, "local", Device, 2, System.Text.Encoding.UTF8.GetBytes(payload), EventChain.HashOf(notice));
        foreach (var (position, stored) in ((StoredEvent[])[notice, kept]).Index())
        {
            place.Execute(FormattableString.Invariant(
                $"""
                INSERT INTO events (position, stream, version, kind, kind_version, utc_ticks, who, device, sequence, payload, previous_hash)
                VALUES ({position + 1}, '{stored.Stream}', 1, '{stored.Kind}', 1, {stored.UtcTicks}, 'local', '{Device}', {stored.Sequence},
                        x'{Convert.ToHexString(stored.Payload.Span)}', x'{Convert.ToHexString(stored.PreviousHash.Span)}')
                """));
        }
    }

    private string Name()
    {
        using var database = place.Database();
        return database.Name;
    }
}
