using Secondpass.Domain.Quantities;

namespace Secondpass.Domain.Films;

/// <summary>How a film was made of a photograph of it: the marks on its corners, its size, and how uncertain lengths are by both.</summary>
/// <remarks>Not a <see cref="Cases.Photograph"/>, which is looked at only. The photograph itself stays as it is, under its own SHA-256.</remarks>
/// <param name="PhotographSha256">SHA-256 of the photograph's file, 64 lower-case hexadecimal digits.</param>
/// <param name="Corners">The four marks on the photograph, clockwise from the film's top left corner.</param>
/// <param name="Width">The film's width as it lies.</param>
/// <param name="Height">Its height.</param>
/// <param name="MarkDeviationPixels">Standard deviation of a mark in each direction, in pixels of the photograph.</param>
/// <param name="LengthDeviationShare">Standard deviation of a length by marks and size, as a share of it, where on the film it is worst.</param>
public sealed record PhotographedFilm(
    string PhotographSha256,
    IReadOnlyList<PixelPoint> Corners,
    Millimetres Width,
    Millimetres Height,
    double MarkDeviationPixels,
    double LengthDeviationShare);
