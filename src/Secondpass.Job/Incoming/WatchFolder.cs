using Secondpass.Domain.Evidence;
using Secondpass.Records;

namespace Secondpass.Job.Incoming;

/// <summary>Looks again and again at the folder into which the sensor's program writes, and knows which films lie in it.</summary>
/// <remarks>
/// Nothing is kept of a film before it is attached, and no file is moved, changed or deleted. Each look goes over the whole folder, so that
/// shares which tell of no change are seen too; a file is read once, and again when its size or its time of writing changes.
/// Safe to call from several threads.
/// </remarks>
/// <param name="store">Says which folder.</param>
/// <param name="time">The clock.</param>
public sealed class WatchFolder(ClinicStore store, TimeProvider time)
{
    private readonly Lock looking = new();
    private readonly Dictionary<string, Watched> files = new(StringComparer.Ordinal);
    private readonly Dictionary<string, DateTimeOffset> firstSeen = new(StringComparer.Ordinal);
    private bool hasLooked;
    private string? watched;
    private DateTimeOffset? goneSince;
    private volatile FolderNow now = FolderNow.None;

    /// <summary>The folder as it was seen last.</summary>
    public FolderNow Now => now;

    /// <summary>Looks at the folder once.</summary>
    /// <param name="stop">Ends the look between two files.</param>
    public void Look(CancellationToken stop = default)
    {
        lock (looking)
        {
            var folder = store.NewFilms.Read().Folder;
            if (folder != watched)
            {
                files.Clear();
                firstSeen.Clear();
                (watched, goneSince, hasLooked) = (folder, null, false);
            }

            if (folder is null)
            {
                now = FolderNow.None;
                return;
            }

            var at = time.GetUtcNow();
            IReadOnlyList<(FileInfo File, DateTimeOffset CameAt)> there;
            int older;
            try
            {
                (there, older) = NewIn(folder, at);
                goneSince = null;
            }
            catch (Exception failure) when (FilmFile.IsOfTheDisk(failure))
            {
                goneSince ??= at;
                now = new FolderNow(folder, goneSince, at, [], [], [], 0);
                return;
            }

            foreach (var (file, cameAt) in there)
            {
                Note(file, cameAt, at);
            }

            // What is gone is forgotten, so that a file of the same name is a new one.
            var names = there.Select(one => one.File.FullName).ToHashSet(StringComparer.Ordinal);
            foreach (var path in files.Keys.Where(path => !names.Contains(path)).ToArray())
            {
                files.Remove(path);
            }

            Tell(folder, at, older);
            foreach (var (file, _) in there.Where(one => files.TryGetValue(one.File.FullName, out var known) && known.IsAtRest(at) && known.MustBeRead))
            {
                if (stop.IsCancellationRequested)
                {
                    return;
                }

                Read(file);
                Tell(folder, at, older);
            }
        }
    }

    // What is copied from a stick keeps the time at which it was written there. So creation counts too; and where a system doesn't tell that,
    // that it was not there when the folder was looked at before.
    private (IReadOnlyList<(FileInfo File, DateTimeOffset CameAt)> There, int Older) NewIn(string folder, DateTimeOffset at)
    {
        var found = FilmFile.Below(folder);
        foreach (var file in found)
        {
            firstSeen.TryAdd(file.FullName, hasLooked ? at : DateTimeOffset.MinValue);
        }

        hasLooked = true;
        var paths = found.Select(file => file.FullName).ToHashSet(StringComparer.Ordinal);
        foreach (var path in firstSeen.Keys.Where(path => !paths.Contains(path)).ToArray())
        {
            firstSeen.Remove(path);
        }

        var all = found.Select(file => (File: file, CameAt: CameAt(file))).OrderByDescending(one => one.CameAt).ToList();
        var fresh = all.TakeWhile(one => at - one.CameAt < TimeSpan.FromDays(NewFilms.OfferedDays.Value)).Take(NewFilms.GreatestCount.Value).ToList();
        return (fresh, all.Count - fresh.Count);
    }

    private DateTimeOffset CameAt(FileInfo file) =>
        new[] { new DateTimeOffset(file.LastWriteTimeUtc, TimeSpan.Zero), new DateTimeOffset(file.CreationTimeUtc, TimeSpan.Zero), firstSeen[file.FullName] }.Max();

    private void Note(FileInfo file, DateTimeOffset cameAt, DateTimeOffset at)
    {
        try
        {
            var (size, written) = (file.Length, file.LastWriteTimeUtc);
            if (!files.TryGetValue(file.FullName, out var known) || known.Size != size || known.Written != written)
            {
                files[file.FullName] = new Watched(file.FullName, Path.GetRelativePath(watched!, file.FullName), size, written, cameAt, at, null, null);
            }
        }
        catch (Exception failure) when (FilmFile.IsOfTheDisk(failure))
        {
            files.Remove(file.FullName);
        }
    }

    private void Read(FileInfo file)
    {
        var known = files[file.FullName];
        if (!FilmFile.Bytes(known.Path).TryGet(out var bytes, out var refusal))
        {
            if (refusal.Code is not (FilmFile.InUse or FilmFile.Gone))
            {
                files[known.Path] = known with { Unread = new UnreadableFile(known.Name, null, refusal) };
            }

            return;
        }

        file.Refresh();
        if (!file.Exists || file.Length != known.Size || file.LastWriteTimeUtc != known.Written || bytes.Length != known.Size)
        {
            // Written while it was read: the next look sees another size or time.
            return;
        }

        files[known.Path] = FilmFile.Look(bytes).TryGet(out var film, out refusal)
            ? known with { Film = film }
            : known with { Unread = new UnreadableFile(known.Name, FilmFile.Sha256Of(bytes), refusal) };
    }

    private void Tell(string folder, DateTimeOffset at, int older)
    {
        var newestFirst = files.Values.OrderByDescending(file => file.CameAt).ThenBy(file => file.Name, StringComparer.Ordinal).ToList();
        now = new FolderNow(
            folder,
            null,
            at,
            [
                .. newestFirst.Where(file => file.Film is not null).GroupBy(file => file.Film!.Sha256).Select(same =>
                {
                    // A copy comes later than what it was made from.
                    var first = same.Last();
                    return new NewFilm(same.Key, first.Path, first.Name, [.. same.SkipLast(1).Select(copy => copy.Name)], first.CameAt, first.Film!.Stated, first.Film.Picture);
                }).OrderByDescending(film => film.CameAt),
            ],
            [.. newestFirst.Where(file => file.Film is null && !file.IsGivenUp(at)).Select(file => file.Name)],
            [.. newestFirst.Where(file => file.IsGivenUp(at)).Select(file => file.Unread!)],
            older);
    }

    private sealed record Watched(
        string Path, string Name, long Size, DateTime Written, DateTimeOffset CameAt, DateTimeOffset RestsSince, SeenFilm? Film, UnreadableFile? Unread)
    {
        public bool IsAtRest(DateTimeOffset at) => at - RestsSince >= TimeSpan.FromSeconds((Size > 0 ? NewFilms.RestSeconds : NewFilms.PatienceSeconds).Value);

        // What could not even be opened is tried again: rights are given and programs closed.
        public bool MustBeRead => Film is null && Unread?.Sha256 is null;

        // What can't be read may be the first half of what a slow network brings.
        public bool IsGivenUp(DateTimeOffset at) => Unread is not null && at - RestsSince >= TimeSpan.FromSeconds(NewFilms.PatienceSeconds.Value);
    }
}
