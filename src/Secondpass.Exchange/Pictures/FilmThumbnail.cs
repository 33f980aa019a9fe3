using Secondpass.Domain.Films;

namespace Secondpass.Exchange.Pictures;

/// <summary>A picture of a film through the window that it is first shown with. Nothing is measured on it.</summary>
public static class FilmThumbnail
{
    /// <summary>A small one, to tell the film from others.</summary>
    /// <param name="film">The film.</param>
    /// <param name="greatestSidePixels">The most pixels on its longer side.</param>
    /// <returns>The bytes of an 8-bit grey PNG file.</returns>
    public static byte[] Png(Radiograph film, int greatestSidePixels)
    {
        ArgumentNullException.ThrowIfNull(film);
        return GreyImageFile.Png(Shown(film, greatestSidePixels));
    }

    /// <summary>One as large as a screen shows a whole film, made to be there at once.</summary>
    /// <param name="film">The film.</param>
    /// <returns>The bytes of an 8-bit grey JPEG file.</returns>
    public static byte[] FirstLook(Radiograph film)
    {
        ArgumentNullException.ThrowIfNull(film);
        return GreyImageFile.Jpeg(Shown(film, FilmImage.GreatestSide));
    }

    private static GreyImage Shown(Radiograph film, int greatestSidePixels) => FilmImage.Shown(
        film.Pixels, film.Width, FilmRegion.Whole(film.Width, film.Height), FirstWindow.Of(film), film.ShownCurve, greatestSidePixels: greatestSidePixels);
}
