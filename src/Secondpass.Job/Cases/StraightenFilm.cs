using System.Text.Json;
using Secondpass.Domain;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;
using Secondpass.Radiographs.Straighten;
using Secondpass.Records;

namespace Secondpass.Job.Cases;

/// <summary>A film of the case that is a photograph of a film becomes a straight film beside it.</summary>
/// <param name="store">Where both are kept.</param>
/// <param name="receive">Takes the straightened film in.</param>
public sealed class StraightenFilm(ClinicStore store, ReceiveFilm receive)
{
    /// <summary>The sizes that can be chosen: name, short and long side in mm. Anything else is typed.</summary>
    public static IReadOnlyList<(string Name, IReadOnlyList<double> Millimetres)> Sizes { get; } =
    [
        ("0", PhotographedFilms.Size0.Value),
        ("1", PhotographedFilms.Size1.Value),
        ("2", PhotographedFilms.Size2.Value),
        ("3", PhotographedFilms.Size3.Value),
        ("4", PhotographedFilms.Size4.Value),
    ];

    /// <summary>Straightens a photograph; the film that comes of it is attached with the moment and tube of the photograph.</summary>
    /// <param name="id">The case.</param>
    /// <param name="version">The version that the page was filled from.</param>
    /// <param name="photographSha256">The photograph, one of the case's films.</param>
    /// <param name="marks">The marks on the corners as JSON, [[x, y], …] in pixels of the photograph.</param>
    /// <param name="size">The name of one of <see cref="Sizes"/>; another or none: as typed.</param>
    /// <param name="oneSide">One side of the film as typed, in mm.</param>
    /// <param name="otherSide">The other.</param>
    /// <param name="by">Who straightens it.</param>
    /// <returns>The case; or a refusal: a film of another case, no size, whatever straightening refuses, straightened alike before, disk full, changed meanwhile.</returns>
    public Answer<DentalCase> Straighten(CaseId id, long version, string photographSha256, string? marks, string? size, string? oneSide, string? otherSide, Writer by)
    {
        ArgumentNullException.ThrowIfNull(by);
        if (!store.Cases.Read(id).TryGet(out var it, out var refusal)
            || !FilmsOfCase.Own(it, photographSha256).TryGet(out var photograph, out refusal)
            || !Sides(size, oneSide, otherSide).TryGet(out var sides, out refusal)
            || !store.ReadFilm(photographSha256).TryGet(out var bytes, out refusal)
            || !FilmStraightener.Straighten(bytes, Marks(marks), sides.One, sides.Other).TryGet(out var straight, out refusal)
            || !receive.Receive(straight.File).TryGet(out var film, out refusal))
        {
            return refusal;
        }

        return it.Films.Any(known => known.Sha256 == film.Sha256)
            ? new Refusal("straightened_alike", "This photograph was straightened with the same marks and size before.", "Look at the film under Films and photographs.")
            : store.Cases.Append(
                id,
                version,
                by.Author,
                [new FilmStraightened(film.Sha256, straight.Film), new FilmAttached(photograph with { Sha256 = film.Sha256, PixelSpacingMillimetres = null })]);
    }

    private static Answer<TwoSides> Sides(string? size, string? oneSide, string? otherSide)
    {
        if (Sizes.FirstOrDefault(known => known.Name == size).Millimetres is { } chosen)
        {
            return new TwoSides(new Millimetres(chosen[0]), new Millimetres(chosen[1]));
        }

        if (!Typed.Millimetres("One side of the film", oneSide, FilmStraightener.LeastSideMillimetres, FilmStraightener.GreatestSideMillimetres).TryGet(out var one, out var refusal)
            || !Typed.Millimetres("The other side of the film", otherSide, FilmStraightener.LeastSideMillimetres, FilmStraightener.GreatestSideMillimetres).TryGet(out var other, out refusal))
        {
            return refusal;
        }

        return one.Value is { } first && other.Value is { } second
            ? new TwoSides(first, second)
            : new Refusal("no_film_size", "The film's size is not said.", "Choose it, or enter both sides in mm, edge to edge.");
    }

    // Marks come from the page's own script; what can't be read as marks is none.
    private static PixelPoint[] Marks(string? text)
    {
        try
        {
            return [.. (JsonSerializer.Deserialize<double[][]>(text ?? "[]") ?? []).Where(mark => mark is { Length: 2 }).Select(mark => new PixelPoint(mark[0], mark[1]))];
        }
        catch (JsonException)
        {
            return [];
        }
    }

    private readonly record struct TwoSides(Millimetres One, Millimetres Other);
}
