using Secondpass.Domain.Films;

namespace Secondpass.Domain.Cases;

/// <summary>A photograph of a film was straightened; the film that came of it is attached by an event of its own.</summary>
/// <param name="FilmSha256">SHA-256 of the straightened film's file.</param>
/// <param name="Photographed">The photograph, the marks and the size that it was made with.</param>
public sealed record FilmStraightened(string FilmSha256, PhotographedFilm Photographed) : CaseEvent;
