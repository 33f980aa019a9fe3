using Secondpass.Domain.Films;

namespace Secondpass.Radiographs.Read;

/// <summary>Turns a picture upright by the orientation that TIFF and Exif files state (TIFF 6.0, tag 274): 1 upright, 2 mirrored, 3 half turn, 4 upside down, 5 to 8 with rows and columns exchanged.</summary>
internal static class Orientation
{
    /// <summary>The tag's number in TIFF and Exif directories.</summary>
    public const ushort Tag = 274;

    /// <summary>The upright film.</summary>
    /// <param name="film">The film as stored.</param>
    /// <param name="orientation">1 to 8; anything else counts as 1.</param>
    public static DecodedFilm Upright(DecodedFilm film, long orientation)
    {
        if (orientation is < 2 or > 8)
        {
            return film;
        }

        var exchanged = orientation >= 5;
        var width = exchanged ? film.Height : film.Width;
        var height = exchanged ? film.Width : film.Height;
        var fromRight = orientation is 2 or 3 or 7 or 8;
        var fromBottom = orientation is 3 or 4 or 6 or 7;
        var upright = new ushort[film.Pixels.Length];
        for (var y = 0; y < height; y++)
        {
            for (var x = 0; x < width; x++)
            {
                var column = exchanged ? y : x;
                var row = exchanged ? x : y;
                column = fromRight ? film.Width - 1 - column : column;
                row = fromBottom ? film.Height - 1 - row : row;
                upright[(y * width) + x] = film.Pixels[(row * film.Width) + column];
            }
        }

        FileSpacing? spacing = film.Spacing is { } stated && exchanged
            ? new FileSpacing(stated.PixelHeight, stated.PixelWidth, stated.Meaning)
            : film.Spacing;
        var notice = orientation is 2 or 4 or 5 or 7 ? FilmNotices.Mirrored : FilmNotices.Turned;
        return film with { Width = width, Height = height, Pixels = upright, Spacing = spacing, Notices = [.. film.Notices, notice] };
    }
}
