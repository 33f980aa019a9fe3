using Secondpass.Browser;
using Secondpass.Domain.Films;
using Secondpass.Phantoms.Truth;

namespace Secondpass.Screen;

/// <summary>A simulated film drawn out to three megapixels of 16 bits, as a DICOM file.</summary>
/// <param name="File">The file.</param>
/// <param name="Width">Columns.</param>
/// <param name="Height">Rows.</param>
/// <param name="Orifice">Where its first filled canal begins.</param>
/// <param name="End">Where that ends.</param>
internal sealed record LargeFilm(byte[] File, int Width, int Height, PixelPoint Orifice, PixelPoint End)
{
    /// <summary>Three megapixels.</summary>
    public const double Usual = 3e6;

    /// <summary>Makes one.</summary>
    /// <param name="pair">The pair of which the film before is taken.</param>
    /// <param name="number">Told in the first pixel, so that films of one pair are different files.</param>
    /// <param name="pixels">How many pixels it has, or a row and a column more.</param>
    public static LargeFilm Of(PhantomPair pair, int number, double pixels = Usual)
    {
        var film = pair.Before.Radiograph;
        var by = Math.Sqrt(pixels / (film.Width * film.Height));
        var (width, height) = ((int)Math.Ceiling(film.Width * by), (int)Math.Ceiling(film.Height * by));
        var depth = (double)ushort.MaxValue / film.GreatestValue;
        var file = DicomFilm.Of(width, height, (x, y) => x + y == 0 ? (ushort)number : (ushort)(depth * Between(film, x / by, y / by)));
        var marks = pair.Clicks(pinsBetween: 0)[0].Pins;
        return new LargeFilm(file, width, height, Drawn(marks[0].At), Drawn(marks[^1].At));

        PixelPoint Drawn(PixelPoint at) => new(at.X * by, at.Y * by);
    }

    private static double Between(Radiograph film, double x, double y)
    {
        var (left, top) = (Math.Min(film.Width - 2, (int)x), Math.Min(film.Height - 2, (int)y));
        var (across, down) = (Math.Min(1, x - left), Math.Min(1, y - top));
        var at = (top * film.Width) + left;
        var pixels = film.Pixels;
        return ((1 - down) * (((1 - across) * pixels[at]) + (across * pixels[at + 1])))
            + (down * (((1 - across) * pixels[at + film.Width]) + (across * pixels[at + film.Width + 1])));
    }
}
