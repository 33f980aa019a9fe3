using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;

namespace Secondpass.Radiographs.Read;

/// <summary>The pixel size behind a resolution such as "300 per inch", as PNG, JPEG and TIFF files state it.</summary>
/// <remarks>Nothing is said here about whether it is plausible: such numbers are often a printer's or a screen's setting.</remarks>
internal static class StatedResolution
{
    /// <summary>Millimetres in an inch, exactly.</summary>
    public const double MillimetresPerInch = 25.4;

    /// <summary>Adds the pixel size, or a notice when the resolution can't be one.</summary>
    /// <param name="pixelsPerUnitX">Pixels per unit along a row.</param>
    /// <param name="pixelsPerUnitY">Pixels per unit along a column.</param>
    /// <param name="unitMillimetres">The unit's length in mm.</param>
    /// <param name="notices">Where the notice goes.</param>
    public static FileSpacing? ToSpacing(double pixelsPerUnitX, double pixelsPerUnitY, double unitMillimetres, List<string> notices)
    {
        var width = unitMillimetres / pixelsPerUnitX;
        var height = unitMillimetres / pixelsPerUnitY;
        if (double.IsFinite(width) && double.IsFinite(height) && width > 0 && height > 0)
        {
            return new FileSpacing(new Millimetres(width), new Millimetres(height), SpacingMeaning.Unstated);
        }

        notices.Add(FilmNotices.UnusableResolution);
        return null;
    }
}
