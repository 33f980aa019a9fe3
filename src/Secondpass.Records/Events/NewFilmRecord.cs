using Secondpass.Domain;
using Secondpass.Domain.Films;

namespace Secondpass.Records.Events;

/// <summary>What is known of films that belong to no case yet.</summary>
/// <param name="Folder">The folder of this computer into which the sensor's program writes; null when none was chosen.</param>
/// <param name="PutAside">SHA-256 of the films that were put aside.</param>
/// <param name="Version">How much was noted.</param>
public sealed record NewFilmNotes(string? Folder, IReadOnlySet<string> PutAside, long Version);

/// <summary>What is noted about films that belong to no case yet: one stream of events, which names no patient.</summary>
/// <remarks>Safe to call from several threads; a second program may use the same store.</remarks>
public sealed class NewFilmRecord
{
    private const string Stream = "new-films";

    private readonly EventLog events;
    private volatile NewFilmNotes known = new(null, new HashSet<string>(StringComparer.Ordinal), 0);

    internal NewFilmRecord(EventLog events) => this.events = events;

    /// <summary>What is known now.</summary>
    public NewFilmNotes Read() => events.Read(Read);

    /// <summary>Chooses the folder of this computer into which the sensor's program writes.</summary>
    /// <param name="folder">Its full path; null for none.</param>
    /// <param name="by">Who chooses it.</param>
    /// <returns>What is known now; or a refusal: busy, disk full, not reached.</returns>
    public Answer<NewFilmNotes> ChooseFolder(string? folder, Author by) =>
        Note(by, now => now.Folder == folder ? null : new FilmsFolderChosen(Environment.MachineName, folder));

    /// <summary>Puts a film aside; nothing happens when it was.</summary>
    /// <param name="sha256">SHA-256 of its file.</param>
    /// <param name="by">Who puts it aside.</param>
    /// <returns>As for <see cref="ChooseFolder"/>.</returns>
    public Answer<NewFilmNotes> PutAside(string sha256, Author by) =>
        Note(by, now => now.PutAside.Contains(sha256) ? null : new FilmPutAside(sha256));

    /// <summary>Takes a film back that was put aside; nothing happens when it was not.</summary>
    /// <param name="sha256">SHA-256 of its file.</param>
    /// <param name="by">Who takes it back.</param>
    /// <returns>As for <see cref="ChooseFolder"/>.</returns>
    public Answer<NewFilmNotes> TakeBack(string sha256, Author by) =>
        Note(by, now => now.PutAside.Contains(sha256) ? new FilmTakenBack(sha256) : null);

    private Answer<NewFilmNotes> Note(Author by, Func<NewFilmNotes, NewFilmEvent?> change) => events.Write<NewFilmNotes>(writer =>
    {
        if (change(Read(writer)) is { } happened)
        {
            writer.Append(Stream, by, null, happened);
        }

        return Fold(writer);
    });

    // Asked for every few seconds by every page that waits for films, and rarely changed.
    private NewFilmNotes Read(EventReader reader)
    {
        var before = known;
        return reader.VersionOf(Stream) == before.Version ? before : known = Fold(reader);
    }

    // Never sealed, so always readable.
    private static NewFilmNotes Fold(EventReader reader)
    {
        string? folder = null;
        var aside = new HashSet<string>(StringComparer.Ordinal);
        var happened = reader.Decode<NewFilmEvent>(reader.Read(Stream)).Value;
        foreach (var one in happened)
        {
            switch (one)
            {
                case FilmsFolderChosen chosen when chosen.Computer == Environment.MachineName:
                    folder = chosen.Folder;
                    break;
                case FilmPutAside put:
                    aside.Add(put.Sha256);
                    break;
                case FilmTakenBack back:
                    aside.Remove(back.Sha256);
                    break;
            }
        }

        return new NewFilmNotes(folder, aside, happened.Count);
    }
}
