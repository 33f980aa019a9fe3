using Secondpass.Domain.Cases;
using Secondpass.Job.Cases;
using Secondpass.Job.Incoming;
using Secondpass.Tests.Job.Cases;
using Secondpass.Tests.Records;

namespace Secondpass.Tests.Job.Incoming;

/// <summary>A clinic whose sensor's program writes into a real folder.</summary>
internal sealed class FilmsDesk : IDisposable
{
    private readonly TemporaryFolder outside = new();

    public FilmsDesk()
    {
        Folder = outside.Of("sensor");
        Directory.CreateDirectory(Folder);
        Assert.True(Desk.Folders.Choose(Folder, CaseDesk.Anna).IsGiven);

        // Files are dated by the real clock, which nobody can set: the clinic's begins there.
        Desk.Clock.Now = TimeProvider.System.GetUtcNow();
    }

    public CaseDesk Desk { get; } = new();

    public string Folder { get; }

    public FolderNow Now => Desk.Watched.Now;

    /// <summary>Puts a file into the folder.</summary>
    public string Put(string name, byte[] bytes)
    {
        var path = Path.Combine(Folder, name);
        Directory.CreateDirectory(Path.GetDirectoryName(path)!);
        File.WriteAllBytes(path, bytes);
        return path;
    }

    /// <summary>Looks as often as it takes until files at rest are read.</summary>
    public void LookUntilRead()
    {
        Desk.Watched.Look();
        Later(3);
    }

    /// <summary>Looks again after some seconds.</summary>
    public void Later(double seconds)
    {
        Desk.Clock.Now += TimeSpan.FromSeconds(seconds);
        Desk.Watched.Look();
    }

    /// <summary>What is offered for no case in particular.</summary>
    public OfferedFilms Offered => Desk.Incoming.Offered(null);

    public void Dispose()
    {
        Desk.Dispose();
        outside.Dispose();
    }

    /// <summary>A film taken straight and before treatment.</summary>
    public static FilmTaken Before { get; } = new(FilmMoment.Before, TubeShift.Straight);
}
