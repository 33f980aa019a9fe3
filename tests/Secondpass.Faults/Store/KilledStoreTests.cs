using Secondpass.Domain.Cases;
using Secondpass.Domain.Chairside;
using Secondpass.Domain.Instruments;
using Secondpass.Records;
using Secondpass.Records.Events;
using Secondpass.Tests.Records;

namespace Secondpass.Faults.Store;

public sealed class KilledStoreOnSqliteTests() : KilledStoreTests(onServer: false);

public sealed class KilledStoreOnPostgresTests() : KilledStoreTests(onServer: true);

/// <summary>A process is killed while it writes (SIGKILL: nothing in it can tidy up), and what it left is opened again.</summary>
public abstract class KilledStoreTests(bool onServer) : IDisposable
{
    private readonly TemporaryFolder folder = new();
    private readonly string? address = onServer ? PostgresCluster.NewDatabase() : null;

    public void Dispose()
    {
        folder.Dispose();
        GC.SuppressFinalize(this);
    }

    [Theory]
    [InlineData(Failpoints.FileBeforeItsName)]
    [InlineData(Failpoints.AfterFileBeforeEvent)]
    [InlineData(Failpoints.AfterEventBeforeProjection)]
    [InlineData(Failpoints.BeforeCommit)]
    [InlineData(Failpoints.AfterCommit)]
    public void Killed_at_any_place_a_change_is_there_as_a_whole_or_not_at_all(string point)
    {
        using var victim = Victim.Start(folder.Path, address, point);
        var said = Said(victim);

        Assert.NotEqual(0, victim.ExitCode);
        Assert.Equal("entry 3", said[^1]);
        var edits = WhatIsThere(said);

        // Only where the transaction was complete is the change that nobody was told of there.
        Assert.Equal(point == Failpoints.AfterCommit ? 4 : 3, edits);
    }

    [Fact]
    public void Killed_at_any_moment_nothing_that_was_told_is_lost_and_nothing_is_half_there()
    {
        var kills = Environment.GetEnvironmentVariable("SECONDPASS_LONG") is null ? 4 : 200;
        var random = new Random(4711);
        for (var kill = 0; kill < kills; kill++)
        {
            using var victim = Victim.Start(folder.Path, address, diesAt: null);
            var first = victim.StandardOutput.ReadLine();
            Assert.StartsWith("case ", first, StringComparison.Ordinal);
            Thread.Sleep(random.Next(250));
            victim.Kill();
            WhatIsThere([first!, .. Said(victim)]);
        }
    }

    private static List<string> Said(System.Diagnostics.Process victim)
    {
        var said = new List<string>();
        while (victim.StandardOutput.ReadLine() is { } line)
        {
            said.Add(line);
        }

        victim.WaitForExit();
        return said;
    }

    // What was told to the caller is there; the rest is whole; and the store goes on working.
    private int WhatIsThere(List<string> said)
    {
        var id = new CaseId(said.First(line => line.StartsWith("case ", StringComparison.Ordinal))[5..]);
        var toldEdits = said.Count(line => line.StartsWith("edit ", StringComparison.Ordinal));
        var toldEntries = said.Count(line => line.StartsWith("entry ", StringComparison.Ordinal));

        using var store = ClinicStore.Open(folder.Path, TimeProvider.System, address).Value;
        Assert.Null(store.Check().Value.FirstBroken);
        Assert.Empty(store.CheckFiles().Damaged);
        Assert.Empty(store.CheckFiles().Missing);
        Assert.Empty(Directory.GetFiles(folder.Path, "*.part", SearchOption.AllDirectories));

        var it = store.Cases.Read(id).Value;
        Assert.InRange(it.Papers.Count, toldEdits, toldEdits + 1);
        Assert.InRange(it.Chairside.Count, toldEntries, toldEntries + 1);
        Assert.Equal(it.Papers.Count == 0 ? null : $"Dr {it.Papers.Count}", it.Referral.Referrer);
        Assert.Equal(1 + (2 * it.Papers.Count) + it.Chairside.Count, it.Version);
        Assert.All(it.Papers.Index(), paper => Assert.Equal(Victim.Bytes(paper.Index + 1), store.Cases.ReadFile(paper.Item.Sha256).Value));

        var line = Assert.Single(store.Cases.List(), line => line.Id == id);
        Assert.Equal((it.Version, it.Referral.Referrer), (line.Version, line.Referrer));
        var before = (Lines: store.Cases.List(), Uses: store.Cases.Uses("item 7", UseCount.PerToothAndVisit));
        Assert.True(store.Rebuild().IsGiven);
        Assert.Equal(before.Lines, store.Cases.List());
        Assert.Equal(before.Uses, store.Cases.Uses("item 7", UseCount.PerToothAndVisit));

        // The device sends again what it was not told of: it is stored once.
        if (it.Chairside.Count > toldEntries)
        {
            var entry = (StepDone)it.Chairside[^1];
            Assert.Equal(it.Version, store.Cases.AppendEntry(id, new EntryKey(id.Value, entry.Visit), new Author("victim", "victim"), entry).Value.Version);
        }

        var edits = it.Papers.Count;
        Assert.True(store.Cases.Append(id, it.Version, new Author("victim", "victim"), [new ReferralChanged(it.Referral)]).IsGiven);
        return edits;
    }
}
