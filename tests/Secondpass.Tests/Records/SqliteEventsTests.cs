using System.Security.Cryptography;
using Microsoft.Data.Sqlite;
using Secondpass.Records.Events;
using Secondpass.Records.Sqlite;

namespace Secondpass.Tests.Records;

public sealed class SqliteEventsTests : IDisposable
{
    private readonly TemporaryFolder folder = new();
    private readonly SetClock clock = new();
    private readonly SqliteEvents events;

    public SqliteEventsTests() => events = SqliteEvents.Open(folder.Of("events.db"), clock, []).Value;

    public void Dispose()
    {
        events.Dispose();
        folder.Dispose();
    }

    [Fact]
    public void Numbers_a_stream_from_1_without_gaps_and_a_device_over_all_streams()
    {
        Assert.Equal(2, events.Append("a", 0, "me", [Event("one"), Event("two")]).Value);
        Assert.Equal(1, events.Append("b", 0, "me", [Event("other")]).Value);
        clock.Now += TimeSpan.FromMinutes(1);
        Assert.Equal(3, events.Append("a", 2, "me", [Event("three")]).Value);

        var read = events.Read("a");
        Assert.Equal([1L, 2L, 3L], read.Select(one => one.Version));
        Assert.Equal([1L, 2L, 4L], read.Select(one => one.Sequence));
        Assert.Single(read.Select(one => one.Device).Distinct());
        Assert.Equal(["one", "two", "three"], read.Select(one => one.Kind));
        Assert.Equal(clock.Now.UtcTicks, read[2].UtcTicks);
        Assert.Equal("me", read[0].Who);
    }

    [Fact]
    public void Refuses_a_change_made_to_an_older_version_and_says_which()
    {
        events.Append("a", 0, "me", [Event("one"), Event("two")]);

        var refusal = events.Append("a", 1, "me", [Event("late")]).Refusal;

        Assert.Equal("changed_meanwhile", refusal.Code);
        Assert.Equal("“a” was changed meanwhile: this change was made to its version 1, and it stands at 2.", refusal.Reason);
        Assert.Equal("Look at it again, then make the change anew if it is still right.", refusal.Remedy);
        Assert.Equal(2, events.Read("a").Count);
    }

    [Fact]
    public async Task Lets_exactly_one_of_many_writers_change_a_version()
    {
        var answers = await Task.WhenAll(Enumerable.Range(0, 12).Select(writer => Task.Run(
            () => events.Append("a", 0, "me", [Event($"writer_{writer}")]).IsGiven)));

        Assert.Single(answers, given => given);
        Assert.Single(events.Read("a"));
        Assert.Equal(1, events.CheckChain().Value);
    }

    // The expected hash is put together here by hand, byte by byte, with the framework's SHA-256.
    [Fact]
    public void Chains_each_event_to_the_bytes_of_the_one_before()
    {
        events.Append("s", 0, "w", [Event("k")]);
        events.Append("t", 0, "w", [Event("l")]);
        var first = events.Read("s")[0];
        byte[] bytes =
        [
            0, 0, 0, 0, 0, 0, 0, 1, (byte)'s',
            0, 0, 0, 0, 0, 0, 0, 1,
            0, 0, 0, 0, 0, 0, 0, 1, (byte)'k',
            0, 0, 0, 0, 0, 0, 0, 3,
            .. BitConverter.GetBytes(clock.Now.UtcTicks).Reverse(),
            0, 0, 0, 0, 0, 0, 0, 1, (byte)'w',
            0, 0, 0, 0, 0, 0, 0, 32, .. first.Device.Select(letter => (byte)letter),
            0, 0, 0, 0, 0, 0, 0, 1,
            0, 0, 0, 0, 0, 0, 0, 2, (byte)'{', (byte)'}',
            0, 0, 0, 0, 0, 0, 0, 32, .. new byte[32],
        ];

        Assert.Equal(SHA256.HashData(bytes), events.Read("t")[0].PreviousHash.ToArray());
    }

    [Fact]
    public void Takes_an_event_and_its_projection_all_or_nothing()
    {
        using var failing = SqliteEvents.Open(folder.Of("events.db"), clock, [new FailingProjection()]).Value;

        Assert.Throws<InvalidOperationException>(() => failing.Append("a", 0, "me", [Event("one")]));
        Assert.Empty(events.Read("a"));
    }

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
        var refusal = StoreRefusals.From(new SqliteException("as the driver says", code), "/data/secondpass.db");

        Assert.Equal(word, refusal!.Code);
        Assert.Equal(reason, refusal.Reason);
    }

    [Fact]
    public void Leaves_a_defect_an_exception() =>
        Assert.Null(StoreRefusals.From(new SqliteException("syntax error", 1), "/data/secondpass.db"));

    private static NewEvent Event(string kind) => new(kind, 3, "{}"u8.ToArray());

    private sealed class FailingProjection : IProjection
    {
        public void Apply(System.Data.Common.DbTransaction transaction, StoredEvent stored) => throw new InvalidOperationException("A defect.");

        public void Clear(System.Data.Common.DbTransaction transaction)
        {
        }
    }
}
