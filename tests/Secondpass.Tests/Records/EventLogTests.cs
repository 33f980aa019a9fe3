using System.Security.Cryptography;
using Secondpass.Domain.Clinics;
using Secondpass.Records.Events;

namespace Secondpass.Tests.Records;

public sealed class EventLogOnSqliteTests() : EventLogTests(StoreKind.Sqlite);

public sealed class EventLogOnPostgresTests() : EventLogTests(StoreKind.Postgres);

public abstract class EventLogTests : IDisposable
{
    private readonly StoreUnderTest place;
    private readonly EventLog events;

    protected EventLogTests(StoreKind kind)
    {
        place = new StoreUnderTest(kind);
        events = EventLog.Open(place.Database(), place.Folder, place.Clock, []).Value;
    }

    public void Dispose()
    {
        events.Dispose();
        place.Dispose();
        GC.SuppressFinalize(this);
    }

    [Fact]
    public void Numbers_a_stream_from_1_without_gaps_and_a_device_over_all_streams()
    {
        Assert.Equal(2, events.Append("a", 0, "me", [Named("one"), Named("two")]).Value);
        Assert.Equal(1, events.Append("b", 0, "me", [Named("other")]).Value);
        place.Clock.Now += TimeSpan.FromMinutes(1);
        Assert.Equal(3, events.Append("a", 2, "me", [Named("three")]).Value);

        var read = events.Read("a");
        Assert.Equal([1L, 2L, 3L], read.Select(one => one.Version));
        Assert.Equal([1L, 2L, 4L], read.Select(one => one.Sequence));
        Assert.Single(read.Select(one => one.Device).Distinct());
        Assert.Equal(["one", "two", "three"], read.Select(one => events.Read(reader => ((ClinicNamed)reader.Decode(one).Value).Details.Name)));
        Assert.Equal(place.Clock.Now.UtcTicks, read[2].UtcTicks);
        Assert.Equal("me", read[0].Who);
    }

    [Fact]
    public void Refuses_a_change_made_to_an_older_version_and_says_which()
    {
        events.Append("a", 0, "me", [Named("one"), Named("two")]);

        var refusal = events.Append("a", 1, "me", [Named("late")]).Refusal;

        Assert.Equal("changed_meanwhile", refusal.Code);
        Assert.Equal("“a” was changed meanwhile: this change was made to its version 1, and it stands at 2.", refusal.Reason);
        Assert.Equal("Look at it again, then make the change anew if it is still right.", refusal.Remedy);
        Assert.Equal(2, events.Read("a").Count);
    }

    [Fact]
    public async Task Lets_exactly_one_of_many_writers_change_a_version()
    {
        var answers = await Task.WhenAll(Enumerable.Range(0, 12).Select(writer => Task.Run(
            () => events.Append("a", 0, "me", [Named($"writer_{writer}")]).IsGiven)));

        Assert.Single(answers, given => given);
        Assert.Single(events.Read("a"));
        Assert.Equal(new ChainReport(1, 1, null), events.CheckChain().Value);
    }

    // The expected hash is put together here by hand, byte by byte, with the framework's SHA-256.
    [Fact]
    public void Chains_each_event_to_the_bytes_of_the_one_before()
    {
        events.Append("s", 0, "w", [new ComparisonRemoved()]);
        events.Append("t", 0, "w", [new ComparisonRemoved()]);
        var first = events.Read("s")[0];
        byte[] bytes =
        [
            0, 0, 0, 0, 0, 0, 0, 1, (byte)'s',
            0, 0, 0, 0, 0, 0, 0, 1,
            0, 0, 0, 0, 0, 0, 0, 18, .. "comparison_removed"u8,
            0, 0, 0, 0, 0, 0, 0, 1,
            .. BitConverter.GetBytes(place.Clock.Now.UtcTicks).Reverse(),
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
        using var failing = EventLog.Open(place.Database(), place.Folder, place.Clock, [new FailingProjection()]).Value;

        Assert.Throws<InvalidOperationException>(() => failing.Append("a", 0, "me", [Named("one")]));
        Assert.Empty(events.Read("a"));
    }

    private static ClinicNamed Named(string name) => new(new ClinicDetails(name, [], "Dr Ann Example", null, null));

    private sealed class FailingProjection : IProjection
    {
        public void Apply(Happening happening) => throw new InvalidOperationException("A defect.");

        public void Clear(System.Data.Common.DbTransaction transaction)
        {
        }
    }
}
