using Secondpass.Domain.Films;

namespace Secondpass.Exchange.Pictures;

/// <summary>A small picture of a film, to tell it from others. Nothing is measured on it.</summary>
public static class FilmThumbnail
{
    /// <summary>Draws it, through the window that the film is first shown with.</summary>
    /// <param name="film">The film.</param>
    /// <param name="greatestSidePixels">The most pixels on its longer side.</param>
    /// <returns>The bytes of an 8-bit grey PNG file.</returns>
    public static byte[] Png(Radiograph film, int greatestSidePixels)
    {
        ArgumentNullException.ThrowIfNull(film);
        return PngPainter.Encode(FilmImage.Shown(
            film.Pixels, film.Width, FilmRegion.Whole(film.Width, film.Height), FilmImage.WindowFor(film), film.ShownCurve, greatestSidePixels: greatestSidePixels));
    }
}
