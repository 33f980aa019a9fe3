using System.Globalization;
using System.Text;
using Secondpass.Domain;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Films;
using Secondpass.Job.Documents;
using Secondpass.Radiographs.Calibrate;
using Secondpass.Radiographs.Draw;
using Secondpass.Records;

namespace Secondpass.Job.Cases;

/// <summary>Lengths, angles and outlines drawn on a film of the case are measured, and kept under a name.</summary>
/// <param name="store">Where they are kept.</param>
/// <param name="shelf">The films.</param>
public sealed class DrawOnFilm(ClinicStore store, FilmShelf shelf)
{
    /// <summary>Measures what was drawn; keeps nothing.</summary>
    /// <param name="id">The case.</param>
    /// <param name="filmSha256">The film.</param>
    /// <param name="drawing">What was drawn, as the JSON document <c>drawing</c>.</param>
    /// <returns>The figures; or a refusal: no such case or film, a drawing that can't be read or measured, pixels that are not square.</returns>
    public Answer<DrawnResult> Measure(CaseId id, string filmSha256, ReadOnlyMemory<byte> drawing) =>
        store.Cases.Read(id).TryGet(out var it, out var refusal) && DrawingDocument.Read(drawing).TryGet(out var read, out refusal)
            ? Read(it, filmSha256, read.Shape, read.PixelSpacingMm)
            : refusal;

    /// <summary>Keeps what was drawn.</summary>
    /// <param name="id">The case.</param>
    /// <param name="version">The version that the page was filled from.</param>
    /// <param name="filmSha256">The film, one of the case's.</param>
    /// <param name="number">The measurement that is drawn anew; null for a new one.</param>
    /// <param name="name">Its name.</param>
    /// <param name="drawing">What was drawn, as the JSON document <c>drawing</c>.</param>
    /// <param name="by">Who drew it.</param>
    /// <returns>The case; or a refusal: as for measuring it, a film of another case, a name that is missing, too long or taken, changed meanwhile.</returns>
    public Answer<DentalCase> Keep(CaseId id, long version, string filmSha256, int? number, string? name, string? drawing, Writer by)
    {
        ArgumentNullException.ThrowIfNull(by);
        if (Typed.Text(drawing) is not { } text)
        {
            return new Refusal("nothing_drawn", "Nothing is drawn yet.", "Choose what to draw, then set its points on the film.");
        }

        if (!store.Cases.Read(id).TryGet(out var it, out var refusal) || !FilmsOfCase.Own(it, filmSha256).TryGet(out _, out refusal))
        {
            return refusal;
        }

        var known = it.Drawn.FirstOrDefault(one => one.Number == number);
        if (number is not null && known is null)
        {
            return NotThere();
        }

        if (!Name(it, filmSha256, number, name).TryGet(out var words, out refusal) || !DrawingDocument.Read(Encoding.UTF8.GetBytes(text)).TryGet(out var read, out refusal))
        {
            return refusal;
        }

        // A name alone changes no figure that somebody may have acted on.
        if (known is not null && IsAlike(read, DrawingDocument.Of(known)))
        {
            return Rename(id, version, known.Number, name, by);
        }

        if (!Read(it, filmSha256, read.Shape, read.PixelSpacingMm).TryGet(out var result, out refusal))
        {
            return refusal;
        }

        var measurement = new DrawnMeasurement(number ?? NextNumber(it), words, filmSha256, read.Shape, result.Scale, result.Figures);
        return store.Cases.Append(id, version, by.Author, [number is null ? new MeasurementDrawn(measurement) : new MeasurementChanged(measurement)]);
    }

    /// <summary>Gives a measurement another name; its figures stay as they were read.</summary>
    /// <inheritdoc cref="Keep" path="/param"/>
    /// <returns>The case; or a refusal: not there, a name that is missing, too long or taken, changed meanwhile.</returns>
    public Answer<DentalCase> Rename(CaseId id, long version, int number, string? name, Writer by)
    {
        ArgumentNullException.ThrowIfNull(by);
        if (!store.Cases.Read(id).TryGet(out var it, out var refusal))
        {
            return refusal;
        }

        if (it.Drawn.FirstOrDefault(one => one.Number == number) is not { } known)
        {
            return NotThere();
        }

        return Name(it, known.FilmSha256, number, name).TryGet(out var words, out refusal)
            ? store.Cases.Append(id, version, by.Author, [new MeasurementChanged(known with { Name = words })])
            : refusal;
    }

    /// <summary>Measures what is drawn anew, with the scale that the film has now.</summary>
    /// <inheritdoc cref="Keep" path="/param"/>
    /// <returns>The case; or a refusal: not there, whatever measuring it refuses, changed meanwhile.</returns>
    public Answer<DentalCase> MeasureAnew(CaseId id, long version, int number, Writer by)
    {
        ArgumentNullException.ThrowIfNull(by);
        if (!store.Cases.Read(id).TryGet(out var it, out var refusal))
        {
            return refusal;
        }

        if (it.Drawn.FirstOrDefault(one => one.Number == number) is not { } known)
        {
            return NotThere();
        }

        return Read(it, known.FilmSha256, known.Shape, null).TryGet(out var result, out refusal)
            ? store.Cases.Append(id, version, by.Author, [new MeasurementChanged(known with { Scale = result.Scale, Figures = result.Figures })])
            : refusal;
    }

    /// <summary>Removes a measurement; it can be put back.</summary>
    /// <inheritdoc cref="Keep" path="/param"/>
    /// <returns>The case; or a refusal: not there, changed meanwhile.</returns>
    public Answer<DentalCase> Remove(CaseId id, long version, int number, Writer by)
    {
        ArgumentNullException.ThrowIfNull(by);
        if (!store.Cases.Read(id).TryGet(out var it, out var refusal))
        {
            return refusal;
        }

        return it.Drawn.Any(one => one.Number == number) ? store.Cases.Append(id, version, by.Author, [new MeasurementRemoved(number)]) : NotThere();
    }

    /// <summary>Puts a measurement back that was removed.</summary>
    /// <inheritdoc cref="Keep" path="/param"/>
    /// <returns>The case; or a refusal: it was not removed, its name is taken by now, changed meanwhile.</returns>
    public Answer<DentalCase> PutBack(CaseId id, long version, int number, Writer by)
    {
        ArgumentNullException.ThrowIfNull(by);
        if (!store.Cases.Read(id).TryGet(out var it, out var refusal))
        {
            return refusal;
        }

        if (it.DrawnRemoved.FirstOrDefault(one => one.Number == number) is not { } removed)
        {
            return NotThere();
        }

        return Name(it, removed.FilmSha256, number, removed.Name).TryGet(out _, out refusal)
            ? store.Cases.Append(id, version, by.Author, [new MeasurementPutBack(number)])
            : refusal;
    }

    // A known length of the case goes before a pixel size that was typed with the drawing before it.
    private Answer<DrawnResult> Read(DentalCase it, string filmSha256, DrawnShape shape, double? enteredMillimetresPerPixel)
    {
        var known = it.KnownLengths.GetValueOrDefault(filmSha256);
        return shelf.Find(filmSha256).TryGet(out var film, out var refusal)
            && FilmScale.Choose(film, known is null ? enteredMillimetresPerPixel : null, known).TryGet(out var chosen, out refusal)
                ? DrawnMeasurer.Measure(film, chosen.Scale, shape)
                : refusal;
    }

    // A film that has got a scale meanwhile shows no field for the size of its pixels any more.
    private static bool IsAlike(DrawingDocument read, DrawingDocument known) =>
        DocumentJson.Write(read with { PixelSpacingMm = read.PixelSpacingMm ?? known.PixelSpacingMm }).AsSpan().SequenceEqual(DocumentJson.Write(known));

    // A number is never given twice, so that what an earlier event speaks of stays what it was.
    private static int NextNumber(DentalCase it) => 1 + it.Drawn.Concat(it.DrawnRemoved).Select(one => one.Number).DefaultIfEmpty(0).Max();

    private static Answer<string> Name(DentalCase it, string filmSha256, int? number, string? typed)
    {
        if (Typed.Text(typed) is not { } name)
        {
            return new Refusal("no_name", "What was drawn has no name.", "Give it one, such as “lesion at MB”: the same name on the next film lets the two be compared.");
        }

        if (name.Length > CanalDocument.LongestName)
        {
            return new Refusal(
                "name_too_long",
                string.Create(CultureInfo.InvariantCulture, $"“{name}” has {name.Length} characters; a name has at most {CanalDocument.LongestName}."),
                "Give it a shorter name.");
        }

        return it.Drawn.Any(one => one.Number != number && one.FilmSha256 == filmSha256 && string.Equals(one.Name, name, StringComparison.OrdinalIgnoreCase))
            ? new Refusal("name_taken", $"“{name}” is drawn on this film already.", "Give it another name, or change the one that is there.")
            : name;
    }

    private static Refusal NotThere() => new(
        "measurement_not_here",
        "This measurement is not on the film any more.",
        "Open the page anew to see what is there.");
}
