using System.Globalization;
using System.Text;
using Secondpass.Domain;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;
using Secondpass.Job.Documents;
using Secondpass.Radiographs.Calibrate;
using Secondpass.Records;

namespace Secondpass.Job.Cases;

/// <summary>A film of the case gets its scale from an object of known length on it.</summary>
/// <param name="store">Where it is kept.</param>
/// <param name="shelf">The films.</param>
public sealed class CalibrateFilm(ClinicStore store, FilmShelf shelf)
{
    /// <summary>Takes a straight line that was drawn as the film's scale, in the place of any that it has.</summary>
    /// <param name="id">The case.</param>
    /// <param name="version">The version that the page was filled from.</param>
    /// <param name="filmSha256">The film, one of the case's.</param>
    /// <param name="drawing">The line, as the JSON document <c>drawing</c>.</param>
    /// <param name="length">Its true length as typed, in mm.</param>
    /// <param name="by">Who says so.</param>
    /// <returns>
    /// The case; or a refusal that quotes what is wrong: a film of another case, nothing or no straight line drawn, a length that is missing, no
    /// number or can't be, whatever <see cref="FilmScale.Choose"/> refuses, changed meanwhile.
    /// </returns>
    public Answer<DentalCase> ByKnownLength(CaseId id, long version, string filmSha256, string? drawing, string? length, Writer by)
    {
        ArgumentNullException.ThrowIfNull(by);
        if (!store.Cases.Read(id).TryGet(out var it, out var refusal) || !FilmsOfCase.Own(it, filmSha256).TryGet(out _, out refusal))
        {
            return refusal;
        }

        return Read(drawing, length).TryGet(out var known, out refusal)
            && shelf.Find(filmSha256).TryGet(out var film, out refusal)
            && FilmScale.Choose(film, null, known).TryGet(out _, out refusal)
                ? store.Cases.Append(id, version, by.Author, [new FilmCalibrated(filmSha256, known)])
                : refusal;
    }

    /// <summary>Takes the known length back: the film has its file's own scale again, or none. What was measured with it stays as it was read.</summary>
    /// <inheritdoc cref="ByKnownLength" path="/param"/>
    /// <returns>The case; or a refusal: there is none, changed meanwhile.</returns>
    public Answer<DentalCase> TakeBack(CaseId id, long version, string filmSha256, Writer by)
    {
        ArgumentNullException.ThrowIfNull(by);
        if (!store.Cases.Read(id).TryGet(out var it, out var refusal))
        {
            return refusal;
        }

        return it.KnownLengths.GetValueOrDefault(filmSha256) is null
            ? new Refusal("no_known_length", "This film has no scale from a known length any more.", "Open the page anew to see which scale it has.")
            : store.Cases.Append(id, version, by.Author, [new FilmCalibrationTakenBack(filmSha256)]);
    }

    /// <summary>The scale that a film has in a case, unless a pixel size is entered.</summary>
    /// <param name="it">The case.</param>
    /// <param name="filmSha256">The film.</param>
    /// <returns>The scale, or none, with what should be known of it; or a refusal: the film can't be read, its pixels are not square.</returns>
    public Answer<ChosenScale> ScaleOf(DentalCase it, string filmSha256)
    {
        ArgumentNullException.ThrowIfNull(it);
        return shelf.Find(filmSha256).TryGet(out var film, out var refusal) ? FilmScale.Choose(film, null, it.KnownLengths.GetValueOrDefault(filmSha256)) : refusal;
    }

    /// <summary>Whether something drawn was measured with another scale than its film has now.</summary>
    /// <param name="it">The case.</param>
    /// <param name="one">One of its measurements.</param>
    public bool HasOtherScale(DentalCase it, DrawnMeasurement one)
    {
        ArgumentNullException.ThrowIfNull(one);
        return ScaleOf(it, one.FilmSha256).TryGet(out var now, out _) && one.HasOtherScaleThan(now.Scale?.MillimetresPerPixel);
    }

    private static Answer<KnownLength> Read(string? drawing, string? length)
    {
        if (Typed.Text(drawing) is not { } text)
        {
            return new Refusal("nothing_drawn", "Nothing is drawn yet.", "Choose Length, then click both ends of the object.");
        }

        if (!DrawingDocument.Read(Encoding.UTF8.GetBytes(text)).TryGet(out var read, out var refusal))
        {
            return refusal;
        }

        var points = read.Shape.Points;
        if (read.Shape.Kind is not (DrawnKind.Length or DrawnKind.KnownLength) || points.Count != 2)
        {
            return new Refusal(
                "no_straight_line",
                string.Create(CultureInfo.InvariantCulture, $"A scale comes from a straight line between two points; {points.Count} {(points.Count == 1 ? "is" : "are")} set, as “{read.Kind.Replace('_', ' ')}”."),
                "Choose Length, then click both ends of the object.");
        }

        if (!Typed.Number("The known length", length, "mm", DrawnOnFilms.LeastKnownLength.Value, DrawnOnFilms.GreatestKnownLength.Value).TryGet(out var typed, out refusal))
        {
            return refusal with { Remedy = Enter };
        }

        return typed.Value is { } millimetres
            ? new KnownLength(points[0], points[1], new Millimetres(millimetres), new Millimetres(Typed.HalfOfLastDigit(length!)))
            : new Refusal("no_true_length", "The true length of the object is not said.", Enter);
    }

    private static string Enter => string.Create(
        CultureInfo.InvariantCulture,
        $"Enter it in mm, from {DrawnOnFilms.LeastKnownLength.Value} to {DrawnOnFilms.GreatestKnownLength.Value}, with the digits that are known: 21 or 21,5.");
}
