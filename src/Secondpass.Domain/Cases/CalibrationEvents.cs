using Secondpass.Domain.Films;

namespace Secondpass.Domain.Cases;

/// <summary>A film of the case got its scale from an object of known length on it: the last one holds.</summary>
/// <param name="FilmSha256">SHA-256 of the film.</param>
/// <param name="Known">The object, with its two marks.</param>
public sealed record FilmCalibrated(string FilmSha256, KnownLength Known) : CaseEvent;

/// <summary>The scale from an object of known length was taken back: the film has its file's own again, or none.</summary>
/// <param name="FilmSha256">SHA-256 of the film.</param>
public sealed record FilmCalibrationTakenBack(string FilmSha256) : CaseEvent;
