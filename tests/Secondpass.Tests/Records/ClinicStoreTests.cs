using Secondpass.Records;
using Secondpass.Records.Events;
using Secondpass.Records.Projections;

namespace Secondpass.Tests.Records;

public sealed class ClinicStoreOnSqliteTests() : ClinicStoreTests(StoreKind.Sqlite);

public sealed class ClinicStoreOnPostgresTests() : ClinicStoreTests(StoreKind.Postgres);

public abstract class ClinicStoreTests(StoreKind kind) : IDisposable
{
    private readonly StoreUnderTest place = new(kind);

    public void Dispose()
    {
        place.Dispose();
        GC.SuppressFinalize(this);
    }

    [Fact]
    public void Keeps_a_comparison_with_its_films_over_a_restart()
    {
        string id;
        using (var store = Open())
        {
            id = Keep(store, "upper molar, visit 2").Id;
        }

        using var again = Open();
        var kept = Assert.Single(again.KeptComparisons());

        Assert.Equal(id, kept.Id);
        Assert.Equal("upper molar, visit 2", kept.Label);
        Assert.Equal(place.Clock.Now, kept.KeptAt);
        Assert.Equal("""{"schema":1}""", kept.CaseDocument);
        Assert.Equal("""{"schema":1,"canals":[]}""", kept.ComparisonDocument);
        Assert.Equal(Film(1), again.ReadFilm(kept.BeforeSha256).Value);
        Assert.Equal(Film(2), again.ReadFilm(kept.AfterSha256).Value);
        Assert.Equal("sheet"u8.ToArray(), again.ReadSheet(kept).Value);
    }

    [Fact]
    public void Rebuilds_the_list_of_kept_comparisons_from_the_events()
    {
        using var store = Open();
        var kept = new[] { Keep(store, "one"), Keep(store, "two"), Keep(store, "three") };
        store.RemoveComparison(kept[1].Id);
        var before = store.KeptComparisons();

        Execute("DELETE FROM kept_comparisons");
        Assert.Empty(store.KeptComparisons());
        store.Rebuild();

        Assert.Equal(before, store.KeptComparisons());
        Assert.Equal(["one", "three"], store.KeptComparisons().Select(one => one.Label).Order(StringComparer.Ordinal));
    }

    [Theory]
    [InlineData("UPDATE events SET payload = x'7b7d' WHERE position = 2", 2)]
    [InlineData("UPDATE events SET who = 'someone else' WHERE position = 1", 1)]
    [InlineData("UPDATE events SET utc_ticks = utc_ticks - 1 WHERE position = 3", 3)]
    [InlineData("UPDATE events SET previous_hash = x'00' WHERE position = 2", 2)]
    [InlineData("UPDATE events SET hash = x'00' WHERE position = 2", 2)]
    public void Names_the_first_event_that_was_changed(string change, long number)
    {
        using var store = Open();
        Keep(store, "one");
        Keep(store, "two");
        Keep(store, "three");
        Assert.Equal(new ChainReport(3, 3, null), store.Check().Value);

        Execute(change);

        var broken = store.Check().Value.FirstBroken!;
        Assert.Equal(number, broken.Number);
        Assert.Equal(ChainFault.Changed, broken.Fault);
        Assert.Equal("comparison_kept", broken.Kind);
        Assert.Equal(1, broken.Version);
    }

    [Fact]
    public void Names_the_event_behind_one_that_was_taken_out()
    {
        using var store = Open();
        Keep(store, "one");
        Keep(store, "two");
        var last = Keep(store, "three");

        Execute("DELETE FROM events WHERE position = 2");

        Assert.Equal(
            new BrokenEvent(2, $"comparison/{last.Id}", 1, "comparison_kept", "local", place.Clock.Now, ChainFault.OutOfPlace),
            store.Check().Value.FirstBroken);
    }

    [Fact]
    public void Notices_that_the_newest_events_were_cut_off()
    {
        using var store = Open();
        var first = Keep(store, "one");
        Keep(store, "two");

        Execute("DELETE FROM events WHERE position = 2");

        Assert.Equal(
            new BrokenEvent(1, $"comparison/{first.Id}", 1, "comparison_kept", "local", place.Clock.Now, ChainFault.CutOff),
            store.Check().Value.FirstBroken);
        Execute("DELETE FROM events");
        Assert.Equal(ChainFault.CutOff, store.Check().Value.FirstBroken!.Fault);
    }

    [Fact]
    public void Says_in_the_data_folder_what_is_in_it()
    {
        Open().Dispose();

        var text = File.ReadAllText(place.Of("README.txt"));

        Assert.All(["secondpass.db", "clinic.key", "films/", "case-files/", "sheets/", "patients' data"], part => Assert.Contains(part, text, StringComparison.Ordinal));
    }

    [Fact]
    public void Removes_undecided_films_a_day_later_and_keeps_those_of_kept_comparisons()
    {
        string loose;
        KeptComparison kept;
        using (var store = Open())
        {
            kept = Keep(store, "kept");
            loose = store.KeepFilm(Film(9)).Value;
        }

        place.Clock.Now += TimeSpan.FromHours(23);
        using (var store = Open())
        {
            Assert.True(store.ReadFilm(loose).IsGiven);
        }

        place.Clock.Now += TimeSpan.FromHours(2);
        using (var store = Open())
        {
            Assert.Equal("film_not_here", store.ReadFilm(loose).Refusal.Code);
            Assert.True(store.ReadFilm(kept.BeforeSha256).IsGiven);
            Assert.True(store.ReadSheet(kept).IsGiven);
        }
    }

    [Fact]
    public void Counts_a_film_received_again_as_new()
    {
        using var store = Open();
        var film = store.KeepFilm(Film(9)).Value;
        place.Clock.Now += TimeSpan.FromHours(23);
        store.KeepFilm(Film(9));
        place.Clock.Now += TimeSpan.FromHours(2);

        store.RemoveUndecidedFilms();

        Assert.True(store.ReadFilm(film).IsGiven);
    }

    [Fact]
    public void Never_throws_away_a_film_that_a_kept_comparison_needs()
    {
        using var store = Open();
        var kept = Keep(store, "kept");

        Assert.False(store.ThrowAwayFilm(kept.BeforeSha256));
        Assert.True(store.ReadFilm(kept.BeforeSha256).IsGiven);
    }

    [Fact]
    public void Removes_films_with_the_last_kept_comparison_that_needs_them()
    {
        using var store = Open();
        var one = Keep(store, "one");
        var two = Keep(store, "two");

        store.RemoveComparison(one.Id);
        Assert.True(store.ReadFilm(two.BeforeSha256).IsGiven);
        Assert.True(store.ReadSheet(two).IsGiven);

        store.RemoveComparison(two.Id);
        Assert.False(store.ReadFilm(two.BeforeSha256).IsGiven);
        Assert.False(store.ReadFilm(two.AfterSha256).IsGiven);
        Assert.False(store.ReadSheet(two).IsGiven);
        Assert.False(store.RemoveComparison(two.Id).Value);
    }

    [Fact]
    public void Keeps_nothing_when_a_film_is_gone()
    {
        using var store = Open();
        var before = store.KeepFilm(Film(1)).Value;
        var gone = new string('a', 64);

        var refusal = store.KeepComparison("label", before, gone, "{}", "{}", "sheet"u8).Refusal;

        Assert.Equal("The film “aaaaaaaaaaaa…” is not in the data folder any more.", refusal.Reason);
        Assert.Equal("Drop its file again.", refusal.Remedy);
        Assert.Empty(store.KeptComparisons());
        Assert.Equal(0, store.Check().Value.Events);
    }

    [Fact]
    public void Remembers_that_the_notice_was_accepted()
    {
        using (var store = Open())
        {
            Assert.False(store.NoticeAccepted);
            store.AcceptNotice();
            store.AcceptNotice();
            Assert.Equal(1, store.Check().Value.Events);
        }

        using var again = Open();
        Assert.True(again.NoticeAccepted);
    }

    [Fact]
    public void Two_programs_on_one_folder_see_what_the_other_keeps()
    {
        using var one = Open();
        using var other = Open();

        Keep(one, "from one");
        Keep(other, "from the other");

        Assert.Equal(2, one.KeptComparisons().Count);
        Assert.Equal(new ChainReport(2, 2, null), other.Check().Value);
    }

    private static byte[] Film(byte value) => [.. Enumerable.Repeat(value, 1000)];

    private static KeptComparison Keep(ClinicStore store, string label) =>
        store.KeepComparison(
            label,
            store.KeepFilm(Film(1)).Value,
            store.KeepFilm(Film(2)).Value,
            """{"schema":1}""",
            """{"schema":1,"canals":[]}""",
            "sheet"u8).Value;

    private ClinicStore Open() => place.Open();

    private void Execute(string sql) => place.Execute(sql);
}
