using Secondpass.Domain.Films;
using Secondpass.Exchange.Pictures;

namespace Secondpass.Job;

/// <summary>Results as pictures: the films with what was found on them, and a strip for each canal branch.</summary>
public static class ResultPicture
{
    /// <summary>A measured film.</summary>
    /// <param name="film">The film.</param>
    /// <param name="measured">What was measured on it.</param>
    /// <returns>The bytes of a PNG file.</returns>
    public static byte[] Of(Radiograph film, MeasuredFilm measured)
    {
        ArgumentNullException.ThrowIfNull(measured);
        return PngPainter.Paint(MeasurementPicture.Draw(film, measured.Trunks, measured.Scale));
    }

    /// <summary>Two films compared.</summary>
    /// <param name="compared">The comparison.</param>
    /// <returns>The bytes of a PNG file.</returns>
    public static byte[] Of(ComparedFilms compared)
    {
        ArgumentNullException.ThrowIfNull(compared);
        return PngPainter.Paint(ComparisonOverlay.DrawWithStrips(compared.Request, compared.Comparison));
    }
}
