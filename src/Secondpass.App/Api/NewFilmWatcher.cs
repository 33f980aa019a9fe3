using Secondpass.Job.Incoming;

namespace Secondpass.App.Api;

/// <summary>Looks at the folder of new films every other second, and at once when the system tells of a change in it.</summary>
/// <remarks>Telling is only the faster way: shares that tell nothing are seen by looking.</remarks>
internal sealed partial class NewFilmWatcher(WatchFolder folder, FilmsFolder chosen, TimeProvider time, ILogger<NewFilmWatcher> log) : BackgroundService
{
    private static readonly TimeSpan Between = TimeSpan.FromSeconds(2);
    private static readonly TimeSpan AtMost = TimeSpan.FromSeconds(10);
    private static readonly TimeSpan AtLeast = TimeSpan.FromMilliseconds(200);

    private readonly SemaphoreSlim changed = new(0, 1);
    private FileSystemWatcher? told;

    public override void Dispose()
    {
        told?.Dispose();
        changed.Dispose();
        base.Dispose();
    }

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        // The workbench answers before the first film is read.
        await Task.Yield();
        try
        {
            while (true)
            {
                var began = time.GetTimestamp();
                Look(stoppingToken);

                // A folder that takes long to look over is not looked at all the time, however much happens in it.
                var pause = time.GetElapsedTime(began) * 4;
                await Task.Delay(AtLeast, time, stoppingToken);
                await changed.WaitAsync(pause < Between ? Between : pause > AtMost ? AtMost : pause, stoppingToken);
            }
        }
        catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
        {
            // The workbench stops.
        }
    }

    private void Look(CancellationToken stop)
    {
        try
        {
            folder.Look(stop);
            Listen(folder.Now.GoneSince is null ? chosen.Chosen : null);
        }
#pragma warning disable CA1031 // whatever it was, the next look may go well, and the workbench goes on without new films
        catch (Exception failure)
#pragma warning restore CA1031
        {
            Failed(log, failure);
        }
    }

    private void Listen(string? path)
    {
        if (told?.Path == path)
        {
            return;
        }

        told?.Dispose();
        told = null;
        if (path is null)
        {
            return;
        }

        try
        {
            told = new FileSystemWatcher(path) { IncludeSubdirectories = true };
            told.Created += Tell;
            told.Changed += Tell;
            told.Renamed += Tell;
            told.EnableRaisingEvents = true;
        }
        catch (Exception failure) when (failure is IOException or ArgumentException or UnauthorizedAccessException)
        {
            // A system that can't tell of changes there: looking is enough.
            told?.Dispose();
            told = null;
        }
    }

    private void Tell(object sender, FileSystemEventArgs change)
    {
        try
        {
            if (changed.CurrentCount == 0)
            {
                changed.Release();
            }
        }
        catch (Exception late) when (late is SemaphoreFullException or ObjectDisposedException)
        {
            // Told already, or the workbench stops.
        }
    }

    [LoggerMessage(Level = LogLevel.Warning, Message = "The folder of new films could not be looked at.")]
    private static partial void Failed(ILogger log, Exception failure);
}
