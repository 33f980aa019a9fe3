using Secondpass.Domain;
using Secondpass.Job.Cases;
using Secondpass.Records;

namespace Secondpass.Job.Incoming;

/// <summary>The folder into which the sensor's program writes, as this clinic chose it on this computer.</summary>
/// <param name="store">Where the choice is kept.</param>
public sealed class FilmsFolder(ClinicStore store)
{
    /// <summary>The folder's full path; null when none was chosen.</summary>
    public string? Chosen => store.NewFilms.Read().Folder;

    /// <summary>Chooses the folder; nothing in it is changed.</summary>
    /// <param name="typed">Its path as typed or pasted; nothing for none.</param>
    /// <param name="by">Who chooses it.</param>
    /// <returns>Whether a folder is chosen now; or a refusal: no such folder, it may not be read, it holds the clinic's own data, disk full.</returns>
    public Answer<bool> Choose(string? typed, Writer by)
    {
        ArgumentNullException.ThrowIfNull(by);
        string? folder = null;
        if (Typed.Text(typed) is not null && !Find(typed).TryGet(out folder, out var refusal))
        {
            return refusal;
        }

        return store.NewFilms.ChooseFolder(folder, by.Author).TryGet(out var now, out refusal) ? now.Folder is not null : refusal;
    }

    /// <summary>The folder that is meant by a path.</summary>
    /// <param name="typed">The path as typed or pasted, quotation marks around it or not.</param>
    /// <returns>Its full path; or a refusal: no such folder, it may not be read, it holds the clinic's own data.</returns>
    internal Answer<string> Find(string? typed)
    {
        var text = (typed ?? string.Empty).Trim().Trim('"', '“', '”').Trim();
        if (text.Length == 0)
        {
            return new Refusal("no_folder", "No folder was chosen.", "Give the folder’s whole path, as the computer’s file window shows it.");
        }

        if (!Path.IsPathFullyQualified(text) || text.Contains('\0', StringComparison.Ordinal))
        {
            return new Refusal("folder_not_whole", $"“{text}” is not the whole path of a folder.", "Give it from its beginning, as the computer’s file window shows it.");
        }

        var folder = Path.TrimEndingDirectorySeparator(Path.GetFullPath(text));
        if (!Directory.Exists(folder))
        {
            return new Refusal("no_such_folder", $"There is no folder “{folder}” on this computer.", "Check its spelling, and whether its drive or network share is connected.");
        }

        if (IsIn(folder, store.Folder) || IsIn(store.Folder, folder))
        {
            return new Refusal("folder_of_data", $"“{folder}” holds the clinic’s own data, or lies in them.", "Choose the folder into which the sensor’s program writes.");
        }

        try
        {
            using var first = Directory.EnumerateFileSystemEntries(folder).GetEnumerator();
            first.MoveNext();
            return folder;
        }
        catch (Exception failure) when (FilmFile.IsOfTheDisk(failure))
        {
            return new Refusal("folder_not_read", $"The folder “{folder}” can’t be read.", "Give this user the right to read it, or choose another.");
        }
    }

    private static bool IsIn(string inner, string outer) =>
        Whole(inner).StartsWith(Whole(outer), OperatingSystem.IsWindows() ? StringComparison.OrdinalIgnoreCase : StringComparison.Ordinal);

    private static string Whole(string folder) => Path.EndsInDirectorySeparator(folder) ? folder : folder + Path.DirectorySeparatorChar;
}
