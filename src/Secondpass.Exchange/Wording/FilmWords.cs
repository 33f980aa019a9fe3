using System.Globalization;
using Secondpass.Domain.Films;

namespace Secondpass.Exchange.Wording;

/// <summary>Says in words what is known about the films themselves.</summary>
public static class FilmWords
{
    /// <summary>A film's scale and where it comes from.</summary>
    /// <param name="scale">The scale; null when unknown.</param>
    /// <returns>Such as "0.03 mm per pixel, from the film's file", or "no scale: lengths in pixels, areas in square pixels".</returns>
    public static string Scale(Calibration? scale) => scale is null
        ? "no scale: lengths in pixels, areas in square pixels"
        : string.Create(CultureInfo.InvariantCulture, $"{scale.MillimetresPerPixel:0.####} mm per pixel, {Source(scale)}");

    /// <summary>The scale that something drawn was measured with.</summary>
    /// <param name="scale">The scale.</param>
    public static string Used(DrawnScale scale)
    {
        ArgumentNullException.ThrowIfNull(scale);
        return string.Create(CultureInfo.InvariantCulture, $"{scale.MillimetresPerPixel:0.####} mm per pixel, {Source(scale.Source)}");
    }

    /// <summary>What stands in the canals on the film after.</summary>
    /// <param name="state">The state that was asked.</param>
    public static string State(AfterState state) => state switch
    {
        AfterState.Removed => "filling removed, nothing put in",
        AfterState.InstrumentIn => "instrument in the canal",
        AfterState.Dressing => "dressing in the canal",
        AfterState.Refilled => "canal filled again",
        _ => throw new ArgumentOutOfRangeException(nameof(state), state, "No such state."),
    };

    private static string Source(Calibration scale) => scale.Known is { } known
        ? string.Create(CultureInfo.InvariantCulture, $"from a known length of {known.LengthInWords} on the film, ±{196 * scale.DeviationShare:0.0} %")
        : Source(scale.Source);

    private static string Source(CalibrationSource source) => source switch
    {
        CalibrationSource.File => "from the film's file",
        CalibrationSource.KnownLength => "from an object of known length on the film",
        CalibrationSource.Entered => "as entered",
        CalibrationSource.Photograph => "from the corners of a photographed film",
        _ => throw new ArgumentOutOfRangeException(nameof(source), source, "No such source."),
    };
}
