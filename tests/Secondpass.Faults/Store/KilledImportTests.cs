using Secondpass.Domain.Cases;
using Secondpass.Records;
using Secondpass.Records.Events;
using Secondpass.Tests.Records;

namespace Secondpass.Faults.Store;

public sealed class KilledImportOnSqliteTests() : KilledImportTests(onServer: false);

public sealed class KilledImportOnPostgresTests() : KilledImportTests(onServer: true);

/// <summary>A process is killed (SIGKILL) while it imports a folder of films, and the import is begun anew.</summary>
public abstract class KilledImportTests(bool onServer) : IDisposable
{
    private readonly TemporaryFolder folder = new();
    private readonly TemporaryFolder films = new();
    private readonly string? address = onServer ? PostgresCluster.NewDatabase() : null;

    public void Dispose()
    {
        folder.Dispose();
        films.Dispose();
        GC.SuppressFinalize(this);
    }

    [Theory]
    [InlineData(Failpoints.FileBeforeItsName, 3)]
    [InlineData(Failpoints.AfterFileBeforeEvent, 3)]
    [InlineData(Failpoints.AfterEventBeforeProjection, 3)]
    [InlineData(Failpoints.BeforeCommit, 3)]
    [InlineData(Failpoints.AfterCommit, 3)]
    public void Killed_at_any_place_and_begun_anew_each_film_is_in_its_case_once_and_its_file_is_untouched(string point, int times)
    {
        Victim.PutFilms(films.Path);
        var before = Directory.GetFiles(films.Path).Order(StringComparer.Ordinal).Select(path => (path, Hash(path), File.GetLastWriteTimeUtc(path))).ToList();

        using (var victim = Victim.StartImport(folder.Path, address, films.Path, point, times))
        {
            victim.StandardOutput.ReadToEnd();
            victim.WaitForExit();
            Assert.NotEqual(0, victim.ExitCode);
        }

        int half;
        using (var store = Open())
        {
            half = Only(store).Films.Count;
            Assert.InRange(half, 1, Victim.Films - 1);
            Assert.Empty(store.CheckFiles().Missing);
        }

        using (var victim = Victim.StartImport(folder.Path, address, films.Path, diesAt: null, times: 1))
        {
            var said = victim.StandardOutput.ReadToEnd();
            victim.WaitForExit();
            Assert.Equal(0, victim.ExitCode);
            Assert.Contains(FormattableString.Invariant($"imported {Victim.Films - half}"), said, StringComparison.Ordinal);
        }

        using var whole = Open();
        Assert.Equal(Victim.Films, Only(whole).Films.Select(film => film.Sha256).Distinct().Count());
        Assert.Equal(Victim.Films, Only(whole).Films.Count);
        Assert.Null(whole.Check().Value.FirstBroken);
        Assert.Empty(whole.CheckFiles().Damaged);
        Assert.Equal(before, Directory.GetFiles(films.Path).Order(StringComparer.Ordinal).Select(path => (path, Hash(path), File.GetLastWriteTimeUtc(path))));
    }

    private static DentalCase Only(ClinicStore store) => store.Cases.Read(Assert.Single(store.Cases.List()).Id).Value;

    private static string Hash(string path) => Convert.ToHexString(System.Security.Cryptography.SHA256.HashData(File.ReadAllBytes(path)));

    private ClinicStore Open() => ClinicStore.Open(folder.Path, TimeProvider.System, address).Value;
}
