using Secondpass.Domain;
using Secondpass.Domain.Films;

namespace Secondpass.Job.Incoming;

/// <summary>The folder of new films as it was seen last.</summary>
/// <param name="Folder">Its full path; null when none was chosen.</param>
/// <param name="GoneSince">Since when it can't be reached, UTC; null while it can.</param>
/// <param name="LookedAt">When it was looked at last, UTC; null before the first time.</param>
/// <param name="Films">The films in it, each once, the one that came last first.</param>
/// <param name="BeingWritten">The names of files that are still being written.</param>
/// <param name="Unreadable">Files that are no film, or none that can be read.</param>
/// <param name="Older">How many files in it are not looked at: older than films are offered as new, or beyond the most that are.</param>
public sealed record FolderNow(
    string? Folder,
    DateTimeOffset? GoneSince,
    DateTimeOffset? LookedAt,
    IReadOnlyList<NewFilm> Films,
    IReadOnlyList<string> BeingWritten,
    IReadOnlyList<UnreadableFile> Unreadable,
    int Older)
{
    /// <summary>No folder was chosen.</summary>
    public static FolderNow None { get; } = new(null, null, null, [], [], [], 0);
}

/// <summary>A film that lies in a folder of the clinic's, where it stays.</summary>
/// <param name="Sha256">SHA-256 of its file.</param>
/// <param name="Path">Its file's full path.</param>
/// <param name="Name">Its file's name, with the folders in between.</param>
/// <param name="AlsoNamed">Names of other files there with the same content.</param>
/// <param name="CameAt">When its file came, UTC.</param>
/// <param name="Stated">What its file says of whom it shows.</param>
/// <param name="Picture">A small picture of it, as a PNG file.</param>
public sealed record NewFilm(
    string Sha256, string Path, string Name, IReadOnlyList<string> AlsoNamed, DateTimeOffset CameAt, StatedIdentity Stated, ReadOnlyMemory<byte> Picture);

/// <summary>A file that can't be read as a film.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Sha256">SHA-256 of its content; null when not even that could be read.</param>
/// <param name="Refusal">Why not.</param>
public sealed record UnreadableFile(string Name, string? Sha256, Refusal Refusal);
