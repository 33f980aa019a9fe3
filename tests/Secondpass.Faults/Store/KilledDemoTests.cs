using Secondpass.Domain.Cases;
using Secondpass.Job.Demo;
using Secondpass.Records;
using Secondpass.Records.Events;
using Secondpass.Tests.Records;

namespace Secondpass.Faults.Store;

public sealed class KilledDemoOnSqliteTests() : KilledDemoTests(onServer: false);

public sealed class KilledDemoOnPostgresTests() : KilledDemoTests(onServer: true);

/// <summary>The workbench is killed (SIGKILL) while it plays the invented clinic, and started again.</summary>
public abstract class KilledDemoTests(bool onServer) : IDisposable
{
    private readonly TemporaryFolder folder = new();
    private readonly string? address = onServer ? PostgresCluster.NewDatabase() : null;

    public void Dispose()
    {
        folder.Dispose();
        GC.SuppressFinalize(this);
    }

    [Fact]
    public void Killed_again_and_again_the_invented_clinic_is_played_to_its_end_in_the_store_that_was_named()
    {
        // Completed changes until it dies: among the instruments, between two forms of a case, at the chair, and with a comparison kept that no case knows yet.
        var comparisonsNoCaseKnew = 0;
        foreach (var changes in (int[])[4, 5, 30, 50])
        {
            Die(changes);
            using var store = Open();
            var attached = store.Cases.List().SelectMany(line => store.Cases.Read(line.Id).Value.Comparisons).Count();
            comparisonsNoCaseKnew += store.KeptComparisons().Count - attached;
        }

        Assert.Equal(1, comparisonsNoCaseKnew);
        Play(folder.Path, address);

        using var undisturbed = new TemporaryFolder();
        Play(undisturbed.Path, null);
        using var expected = ClinicStore.Open(undisturbed.Path, TimeProvider.System).Value;
        using var found = Open();
        Assert.Equal(onServer, !File.Exists(folder.Of("secondpass.db")));
        Assert.Equal(expected.Clinic.Read().Items.Select(item => item.Position), found.Clinic.Read().Items.Select(item => item.Position));
        Assert.Equal(expected.KeptComparisons().Select(kept => kept.Label), found.KeptComparisons().Select(kept => kept.Label));
        Assert.Equal(Told(expected), Told(found));
        Assert.Null(found.Check().Value.FirstBroken);
        Assert.Empty(found.CheckFiles().Missing);
    }

    [Fact]
    public void A_half_played_case_that_somebody_changed_stays_as_they_left_it()
    {
        Die(16);
        DentalCase half;
        using (var store = Open())
        {
            half = store.Cases.Read(store.Cases.List().Single(line => line.PatientNumber == "D-107").Id).Value;
            half = store.Cases.Append(half.Id, half.Version, new Author("Ann", "surgery 2"), [new ReferralChanged(half.Referral with { Referrer = "Dr Other" })]).Value;
        }

        Play(folder.Path, address);
        using var after = Open();
        Assert.Equal((half.Version, "Dr Other"), (after.Cases.Read(half.Id).Value.Version, after.Cases.Read(half.Id).Value.Referral.Referrer));
        Assert.Equal(10, after.Cases.List().Count);
    }

    private static void Play(string folder, string? address) =>
        Assert.True(OpenDemoClinic.Play(Path.Combine(AppContext.BaseDirectory, "demo", "clinic"), folder, TimeProvider.System, address).IsGiven);

    private static IEnumerable<string> Told(ClinicStore store) => store.Cases.List()
        .OrderBy(line => line.PatientNumber, StringComparer.Ordinal)
        .SelectMany(line => store.Cases.History(line.Id).Value.Select(one => FormattableString.Invariant($"{line.PatientNumber} {one.At:O} {one.Device} {one.Event.GetType().Name}")));

    private void Die(int changes)
    {
        using var victim = Victim.StartDemo(folder.Path, address, changes);
        victim.StandardOutput.ReadToEnd();
        victim.WaitForExit();
        Assert.NotEqual(0, victim.ExitCode);
    }

    private ClinicStore Open() => ClinicStore.Open(folder.Path, TimeProvider.System, address).Value;
}
