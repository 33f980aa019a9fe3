using System.Globalization;
using Secondpass.Domain;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Draw;

namespace Secondpass.Radiographs.Calibrate;

/// <summary>Chooses between the scale that was entered, the one of an object of known length, and the one that the film's file states.</summary>
public static class FilmScale
{
    /// <summary>What is said when there is no scale.</summary>
    public const string NoScale =
        "There is no scale: results are in percent only. Enter the size of a pixel, or mark an object of known length on the film.";

    private const double MillimetresPerInch = 25.4;

    // JFIF writes whole pixels per centimetre: 72 per inch becomes 28, which is 71.1.
    private const double SameResolution = 0.015;

    /// <summary>Chooses the scale of a film.</summary>
    /// <param name="film">The film.</param>
    /// <param name="enteredMillimetresPerPixel">The pixel size that a case file or a person gives, in mm; or null.</param>
    /// <param name="known">An object of known length on the film; or null.</param>
    /// <returns>
    /// What was entered, with a notice when the file or the known length says something else by more than 1 %. Otherwise the scale of the known
    /// length, with what it presumes and how far it is from what the file says. Otherwise the file's own scale
    /// when it is that of an intra-oral film: sizes outside <see cref="Calibration"/>'s limits, and screen resolutions in
    /// PNG, JPEG, TIFF and BMP files, are ignored with a notice. Otherwise no scale.
    /// Refused: an entered size outside the limits (<c>implausible_pixel_size</c>), a known length that <see cref="Calibration.From(KnownLength)"/>
    /// refuses or that is marked outside the film (<c>point_outside_film</c>), and a film whose file states pixels
    /// that are not square by more than 1 % (<c>pixels_not_square</c>), because its angles and lengths would all be wrong,
    /// whatever was entered.
    /// </returns>
    public static Answer<ChosenScale> Choose(Radiograph film, double? enteredMillimetresPerPixel, KnownLength? known = null)
    {
        ArgumentNullException.ThrowIfNull(film);
        var tolerance = FilmReading.SameScaleTolerance.Value;
        var (stated, whyNot) = Stated(film);
        if (stated is { } shape && Math.Abs((shape.PixelWidth.Value / shape.PixelHeight.Value) - 1) > tolerance)
        {
            return NotSquare(shape);
        }

        double? statedMillimetres = stated is { } size ? (size.PixelWidth.Value + size.PixelHeight.Value) / 2 : null;
        Calibration? knownScale = null;
        if (known is not null && !OnFilm(film, known).TryGet(out knownScale, out var notKnown))
        {
            return notKnown;
        }

        if (enteredMillimetresPerPixel is { } entered)
        {
            if (!Calibration.From(entered, CalibrationSource.Entered).TryGet(out var enteredScale, out var refusal))
            {
                return refusal;
            }

            var others = new[] { ("the film's own file states", statedMillimetres), ("the known length on the film gives", knownScale?.MillimetresPerPixel) };
            return new ChosenScale(
                enteredScale,
                [.. others.Where(other => other.Item2 is { } says && Math.Abs((says / entered) - 1) > tolerance).Select(other => EnteredWins(entered, other.Item1, other.Item2!.Value))]);
        }

        if (knownScale is not null)
        {
            return new ChosenScale(knownScale, statedMillimetres is { } says ? [Presumes(knownScale), Beside(film, says, knownScale)] : [Presumes(knownScale)]);
        }

        if (statedMillimetres is not { } millimetres)
        {
            return new ChosenScale(null, whyNot is null ? [NoScale] : [whyNot, NoScale]);
        }

        if (film.Photographed is { } photographed)
        {
            return Calibration.From(millimetres, CalibrationSource.Photograph, photographed.LengthDeviationShare).TryGet(out var ofCorners, out var notPlausible)
                ? new ChosenScale(ofCorners, [FromMarks(photographed)])
                : notPlausible;
        }

        return Calibration.From(millimetres, CalibrationSource.File).TryGet(out var scale, out var implausible)
            ? new ChosenScale(scale, Meaning(millimetres, stated!.Value.Meaning) is { } notice ? [notice] : [])
            : implausible;
    }

    private static (FileSpacing? Stated, string? WhyNot) Stated(Radiograph film)
    {
        if (film.Spacing is not { } spacing)
        {
            return (null, null);
        }

        if (!IsPlausible(spacing.PixelWidth.Value) || !IsPlausible(spacing.PixelHeight.Value))
        {
            return (null, string.Create(
                CultureInfo.InvariantCulture,
                $"The file states pixels of {spacing.PixelWidth.Value:0.####} × {spacing.PixelHeight.Value:0.####} mm, which is not an intra-oral film; its scale was ignored."));
        }

        if (film.Photographed is null
            && film.Format is FilmFormat.Png or FilmFormat.Jpeg or FilmFormat.Tiff or FilmFormat.Bmp
            && FilmReading.ScreenResolutions.Value.Any(resolution => IsResolution(spacing, resolution)))
        {
            return (null, string.Create(
                CultureInfo.InvariantCulture,
                $"The file states {MillimetresPerInch / spacing.PixelWidth.Value:0} pixels per inch ({spacing.PixelWidth.Value:0.####} mm per pixel), which is a screen's setting and not the film's scale; it was ignored."));
        }

        return (spacing, null);
    }

    private static bool IsPlausible(double millimetres) =>
        millimetres is >= Calibration.SmallestMillimetresPerPixel and <= Calibration.LargestMillimetresPerPixel;

    private static bool IsResolution(FileSpacing spacing, double pixelsPerInch) =>
        Math.Abs((MillimetresPerInch / spacing.PixelWidth.Value / pixelsPerInch) - 1) < SameResolution
        && Math.Abs((MillimetresPerInch / spacing.PixelHeight.Value / pixelsPerInch) - 1) < SameResolution;

    private static Refusal NotSquare(FileSpacing spacing) => new(
        "pixels_not_square",
        string.Create(
            CultureInfo.InvariantCulture,
            $"The file states pixels of {spacing.PixelWidth.Value:0.####} × {spacing.PixelHeight.Value:0.####} mm: they are not square, so lengths and angles on this film would be wrong."),
        "Export the film again with square pixels.",
        new Dictionary<string, double> { ["pixel_width_mm"] = spacing.PixelWidth.Value, ["pixel_height_mm"] = spacing.PixelHeight.Value });

    private static string FromMarks(PhotographedFilm photographed) => string.Create(
        CultureInfo.InvariantCulture,
        $"The scale is from a photograph: marks ±{1.96 * photographed.MarkDeviationPixels:0.#} px and the film's size give ±{196 * photographed.LengthDeviationShare:0.#} % of a length.");

    private static string EnteredWins(double entered, string other, double says) => string.Create(
        CultureInfo.InvariantCulture,
        $"The entered scale of {entered:0.####} mm per pixel was used; {other} {says:0.####} mm.");

    private static Answer<Calibration> OnFilm(Radiograph film, KnownLength known) =>
        !film.Holds(known.From) ? DrawRefusals.OutsideFilm(known.From, film)
        : !film.Holds(known.To) ? DrawRefusals.OutsideFilm(known.To, film)
        : Calibration.From(known);

    private static string Presumes(Calibration scale) => string.Create(
        CultureInfo.InvariantCulture,
        $"Two marks {scale.Known!.DistancePixels:0} pixels apart on {scale.Known.LengthInWords} leave ±{196 * scale.DeviationShare:0.0} % of a length open. The scale holds where the object lies in the film's plane as the tooth does: an object that is foreshortened or nearer to the tube, or a photograph taken at a slant, makes it wrong. On a photograph of a film its four corners are better.");

    private static string Beside(Radiograph film, double stated, Calibration known)
    {
        var percent = 100 * ((known.MillimetresPerPixel / stated) - 1);
        var more = Math.Abs(percent) < 0.5 ? "the same within half a percent" : string.Create(CultureInfo.InvariantCulture, $"{Math.Abs(percent):0} % {(percent > 0 ? "more" : "less")}");
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{(film.Photographed is null ? "The file says" : "The film's corners give")} {stated:0.0000} mm a pixel, the known length gives {known.MillimetresPerPixel:0.0000}: {more}.");
    }

    private static string? Meaning(double millimetres, SpacingMeaning meaning) => meaning switch
    {
        SpacingMeaning.AtDetector => string.Create(
            CultureInfo.InvariantCulture,
            $"The scale of {millimetres:0.####} mm per pixel is that of the sensor; the tooth in front of it is shown a little larger, so lengths read a little long."),
        SpacingMeaning.Unstated => string.Create(
            CultureInfo.InvariantCulture,
            $"The file states {millimetres:0.####} mm per pixel without saying what it refers to; check it against an object of known length on the film."),
        _ => null,
    };
}
