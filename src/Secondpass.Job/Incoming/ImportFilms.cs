using System.Collections.Concurrent;
using System.Globalization;
using Secondpass.Domain;
using Secondpass.Domain.Evidence;
using Secondpass.Job.Cases;
using Secondpass.Records;

namespace Secondpass.Job.Incoming;

/// <summary>Films of earlier years come into their cases: looked at first, and nothing is stored before somebody says so.</summary>
/// <remarks>
/// Each film is stored with what speaks of it or not at all, and a film that belongs to a case already is never stored again: an import that was
/// broken off is simply begun anew.
/// </remarks>
/// <param name="store">Where films go.</param>
/// <param name="attach">Attaches a film.</param>
/// <param name="folders">Finds folders.</param>
public sealed class ImportFilms(ClinicStore store, AttachNewFilm attach, FilmsFolder folders)
{
    // One that is looked at, one that is stored, and one that somebody left; the oldest is forgotten for another.
    private const int AtHand = 3;

    private readonly ConcurrentDictionary<string, FilmImport> running = new(StringComparer.Ordinal);
    private int begun;

    /// <summary>Begins to look at the files below a folder.</summary>
    /// <param name="typed">Its path as typed or pasted.</param>
    /// <returns>The import; or a refusal: no such folder, it may not be read.</returns>
    public Answer<FilmImport> Begin(string? typed)
    {
        if (!folders.Find(typed).TryGet(out var folder, out var refusal))
        {
            return refusal;
        }

        try
        {
            var files = FilmFile.Below(folder).OrderBy(file => file.FullName, StringComparer.Ordinal).ToList();
            return files.Count switch
            {
                0 => new Refusal("empty_folder", $"There is no file in “{folder}”.", "Choose the folder in which the films lie."),
                _ when files.Count > NewFilms.GreatestImportCount.Value => new Refusal(
                    "folder_too_large",
                    string.Create(CultureInfo.InvariantCulture, $"There are {files.Count} files in “{folder}”; {NewFilms.GreatestImportCount.Value} is the most of one import."),
                    "Import it folder by folder: choose one of those in it."),
                _ => Begin(folder, [.. files.Select(file => new ImportedFile(Path.GetRelativePath(folder, file.FullName), new DateTimeOffset(file.LastWriteTimeUtc, TimeSpan.Zero), () => FilmFile.Bytes(file.FullName)))]),
            };
        }
        catch (Exception failure) when (FilmFile.IsOfTheDisk(failure))
        {
            return new Refusal("folder_not_read", $"The folder “{folder}” can’t be read.", "See whether its drive or network share is connected.");
        }
    }

    /// <summary>Begins to look at files that a page sent.</summary>
    /// <param name="sent">At least one file; they stay in memory until the import is forgotten.</param>
    /// <returns>The import; or a refusal: none was sent.</returns>
    public Answer<FilmImport> Begin(IReadOnlyList<SentFile> sent)
    {
        ArgumentNullException.ThrowIfNull(sent);
        return sent.Count == 0
            ? new Refusal("no_file", "No film was chosen.", "Choose a folder, or drop several films on the field.")
            : Begin(null, [.. sent.Select(file => new ImportedFile(Path.GetFileName(file.Name), null, () => file.Bytes.ToArray()))]);
    }

    /// <summary>An import that was begun since this program was started.</summary>
    /// <returns>The import; or a refusal: it is not known any more.</returns>
    public Answer<FilmImport> Find(string id) => running.TryGetValue(id, out var found)
        ? found
        : new Refusal(
            "import_not_here",
            "This import is not at hand any more: Secondpass was started anew, or others were begun since.",
            "Begin it again. What was stored is known, and is not stored twice.");

    private FilmImport Begin(string? folder, IReadOnlyList<ImportedFile> files)
    {
        var number = Interlocked.Increment(ref begun);
        var import = new FilmImport(FormattableString.Invariant($"{number}"), number, folder, files, store, attach);
        running[import.Id] = import;
        foreach (var old in running.Values.OrderByDescending(one => one.Number).Skip(AtHand).Where(one => one.Now.State is not ImportState.Storing))
        {
            old.Stop();
            running.TryRemove(old.Id, out _);
        }

        import.BeginLooking();
        return import;
    }
}

/// <summary>A file that may be imported.</summary>
/// <param name="Name">Its name, with the folders in between.</param>
/// <param name="Written">When it was written, UTC; null where that is not known.</param>
/// <param name="Read">Reads its bytes.</param>
internal sealed record ImportedFile(string Name, DateTimeOffset? Written, Func<Answer<byte[]>> Read);
