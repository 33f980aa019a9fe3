using System.Runtime.CompilerServices;
using Secondpass.Domain.Films;
using Secondpass.Exchange.Pictures;
using Secondpass.Exchange.Wording;
using Secondpass.Radiographs.Calibrate;

namespace Secondpass.Job.Shown;

/// <summary>A film as the page needs it; its pixels come apart.</summary>
/// <param name="Id">SHA-256 of its file.</param>
/// <param name="Width">Columns.</param>
/// <param name="Height">Rows.</param>
/// <param name="GreatestValue">The greatest value that its depth can hold.</param>
/// <param name="FirstWindow">The window that it is first shown with, [black, white].</param>
/// <param name="ShownCurve">The shade from 0 to 255 that its file asks for each grey value from 0 on, where that is no straight line; else null.</param>
/// <param name="SpacingMm">The scale that is used unless another is entered, in mm per pixel, or null.</param>
/// <param name="ScaleWords">The scale and its source in words.</param>
/// <param name="Notices">What the dentist should know of the film, in sentences.</param>
/// <param name="ScaleNotices">What the dentist should know of its scale.</param>
public sealed record ShownFilm(
    string Id,
    int Width,
    int Height,
    int GreatestValue,
    double[] FirstWindow,
    byte[]? ShownCurve,
    double? SpacingMm,
    string ScaleWords,
    IReadOnlyList<string> Notices,
    IReadOnlyList<string> ScaleNotices)
{
    // Kept as long as the film is at hand: the same page is opened again and again.
    private static readonly ConditionalWeakTable<Radiograph, byte[]> FirstLooks = [];

    /// <summary>A picture of it as it is first shown: for lists, and on its own page until its pixels have come. Nothing is measured on it.</summary>
    /// <returns>The bytes of an 8-bit grey JPEG file.</returns>
    public static byte[] FirstLook(Radiograph film) => FirstLooks.GetValue(film, FilmThumbnail.FirstLook);

    /// <summary>A film with the scale that its file gives.</summary>
    public static ShownFilm Of(Radiograph film)
    {
        ArgumentNullException.ThrowIfNull(film);
        var (scale, notices) = FilmScale.Choose(film, null).TryGet(out var chosen, out var refusal)
            ? chosen
            : new ChosenScale(null, [refusal.Reason]);
        var window = Exchange.Pictures.FirstWindow.Of(film);
        return new ShownFilm(
            film.Sha256,
            film.Width,
            film.Height,
            film.GreatestValue,
            [window.Black, window.White],
            film.ShownCurve?.Shades.ToArray(),
            scale?.MillimetresPerPixel,
            FilmWords.Scale(scale),
            film.Notices,
            notices);
    }
}
