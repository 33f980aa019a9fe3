namespace Secondpass.Domain.Films;

/// <summary>Something that was noted about films which belong to no case yet. A correction is another one.</summary>
/// <remarks>Names no patient: what a file says of one is noted with the case that the film is attached to, and nowhere else.</remarks>
public abstract record NewFilmEvent;

/// <summary>The folder was chosen into which the sensor's program writes: the last one of a computer holds.</summary>
/// <param name="Computer">The computer whose folder it is, by its name.</param>
/// <param name="Folder">The folder's full path; null for none.</param>
public sealed record FilmsFolderChosen(string Computer, string? Folder) : NewFilmEvent;

/// <summary>A film was put aside: it is not offered as new any more.</summary>
/// <param name="Sha256">SHA-256 of its file.</param>
public sealed record FilmPutAside(string Sha256) : NewFilmEvent;

/// <summary>A film that was put aside is offered again.</summary>
/// <param name="Sha256">SHA-256 of its file.</param>
public sealed record FilmTakenBack(string Sha256) : NewFilmEvent;
