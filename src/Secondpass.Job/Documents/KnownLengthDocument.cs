using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;

namespace Secondpass.Job.Documents;

/// <summary>An object of known length on a film, from which the film has its scale.</summary>
/// <param name="EndsPx">Its two ends.</param>
/// <param name="LengthMm">Its length.</param>
/// <param name="WithinMm">How far that may be off.</param>
[Description("An object of known length on a film, which gives the film its scale. It is presumed to lie in the film's plane as the tooth does.")]
public sealed record KnownLengthDocument(
    [property: Description("Its two ends in pixels of the film, at least 50 pixels apart."), Columns("x of one end, pixels", "y of one end, pixels", "x of the other end, pixels", "y of the other end, pixels")] double[] EndsPx,
    [property: Description("Its length, in mm."), Range(2.0, 100.0)] double LengthMm,
    [property: Description("How far the true length may lie from that, either way, in mm: half of the last digit known, at most a quarter of the length. Null: 0.5, as rulers and stops are read.")] double? WithinMm = null)
{
    /// <summary>The entry of a known length.</summary>
    public static KnownLengthDocument Of(KnownLength known)
    {
        ArgumentNullException.ThrowIfNull(known);
        return new KnownLengthDocument(
            [Rounded.Pixels(known.From.X), Rounded.Pixels(known.From.Y), Rounded.Pixels(known.To.X), Rounded.Pixels(known.To.Y)],
            known.Length.Value,
            known.Within.Value);
    }

    /// <summary>The known length that it says.</summary>
    internal KnownLength Known => new(
        new PixelPoint(EndsPx[0], EndsPx[1]),
        new PixelPoint(EndsPx[2], EndsPx[3]),
        new Millimetres(LengthMm),
        new Millimetres(WithinMm ?? DrawnOnFilms.StopReading.Value));
}
