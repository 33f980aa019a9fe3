using System.Globalization;
using Secondpass.Domain.Films;

namespace Secondpass.Job;

/// <summary>The scale that a film is measured with, and what is to be said about it.</summary>
/// <param name="Scale">The scale; null when there is none: then shares are given and no millimetres.</param>
/// <param name="Notices">What the dentist should know, in sentences.</param>
public sealed record FilmScale(Calibration? Scale, IReadOnlyList<string> Notices)
{
    /// <summary>Largest difference between a pixel's width and height that still counts as square: 1 %.</summary>
    private const double SquareWithin = 0.01;

    /// <summary>Chooses the scale of a film: what was entered, else what its file states where that is plausible.</summary>
    /// <param name="film">The film.</param>
    /// <param name="entered">What was entered or marked; null leaves it to the file.</param>
    public static FilmScale Of(Radiograph film, Calibration? entered)
    {
        ArgumentNullException.ThrowIfNull(film);
        if (film.Spacing is not { } spacing)
        {
            return new FilmScale(entered, []);
        }

        var (width, height) = (spacing.PixelWidth.Value, spacing.PixelHeight.Value);
        if (entered is not null)
        {
            return Math.Abs(entered.MillimetresPerPixel - width) <= SquareWithin * width
                ? new FilmScale(entered, [])
                : new FilmScale(entered, [string.Create(
                    CultureInfo.InvariantCulture,
                    $"The scale entered, {entered.MillimetresPerPixel:0.####} mm per pixel, is used; the film's file says {width:0.####}.")]);
        }

        if (Math.Abs(width - height) > SquareWithin * Math.Max(width, height))
        {
            return new FilmScale(null, [string.Create(
                CultureInfo.InvariantCulture,
                $"The film's file states pixels that are not square ({width:0.####} × {height:0.####} mm), so its scale is not used.")]);
        }

        if (!Calibration.From(width, CalibrationSource.File).TryGet(out var scale, out var refusal))
        {
            return new FilmScale(null, [$"The scale in the film's file is not used: {refusal.Reason}"]);
        }

        return new FilmScale(scale, spacing.Meaning == SpacingMeaning.AtDetector
            ? ["The file's scale is that of the sensor: lengths in the tooth read a little long."]
            : []);
    }
}
