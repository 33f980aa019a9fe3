using Secondpass.Domain.Instruments;

namespace Secondpass.Removal.Geometry;

/// <summary>The space an instrument takes along its axis: D(x) = min(Dmax, D0 + t·x) on the cutting part, the shaft beyond.</summary>
/// <remarks>
/// Sizes and tapers after ISO 3630-1: D0 is a hundredth of the size in mm, t the taper in mm per mm. x is the distance from
/// the tip. An adaptive core has two shapes: closed, and opened as wide as it goes, which is an arc between its two ends.
/// </remarks>
public sealed class InstrumentShape
{
    private readonly double tip;
    private readonly double taper;
    private readonly double cutting;
    private readonly double greatest;
    private readonly double? shaft;
    private readonly double? opened;

    private InstrumentShape(double tip, double taper, double cutting, double greatest, double? shaft, double? opened)
    {
        this.tip = tip;
        this.taper = taper;
        this.cutting = cutting;
        this.greatest = greatest;
        this.shaft = shaft;
        this.opened = opened;
    }

    /// <summary>Length of the cutting part from the tip.</summary>
    public double CuttingLengthMillimetres => cutting;

    /// <summary>The shape of a kind.</summary>
    /// <param name="kind">The kind.</param>
    /// <returns>Its shape; null where the catalogue gives no tip size, taper or cutting length: then nothing is computed of it.</returns>
    public static InstrumentShape? Of(InstrumentKind kind)
    {
        ArgumentNullException.ThrowIfNull(kind);
        return kind is { TipSize: { } size, Taper: { } taper, CuttingLength: { } cutting }
            ? new InstrumentShape(
                size / 100.0,
                taper,
                cutting.Value,
                kind.GreatestDiameter?.Value ?? double.PositiveInfinity,
                kind.ShaftDiameter?.Value,
                kind.ExpandedDiameter?.Value)
            : null;
    }

    /// <summary>Diameter, a core closed.</summary>
    /// <param name="fromTipMillimetres">Distance from the tip; before the tip there is nothing.</param>
    public double DiameterMillimetresAt(double fromTipMillimetres) => fromTipMillimetres switch
    {
        < 0 => 0,
        var x when x <= cutting => Cutting(x),
        _ => shaft ?? Cutting(cutting),
    };

    /// <summary>Diameter with a core opened as wide as it goes; the same as closed for everything else.</summary>
    /// <param name="fromTipMillimetres">Distance from the tip.</param>
    public double OpenedDiameterMillimetresAt(double fromTipMillimetres)
    {
        var closed = DiameterMillimetresAt(fromTipMillimetres);
        if (opened is not { } widest || fromTipMillimetres < 0 || fromTipMillimetres > cutting)
        {
            return closed;
        }

        var share = fromTipMillimetres / cutting;
        return Math.Max(closed, closed + ((widest - closed) * 4 * share * (1 - share)));
    }

    /// <summary>Width that is cut at a place on the way to the stop: the widest of the cutting part that passed it. The shaft doesn't cut.</summary>
    /// <param name="fromTipMillimetres">Distance from the tip at its stop; before the tip nothing is cut.</param>
    public double SweptDiameterMillimetresAt(double fromTipMillimetres) =>
        fromTipMillimetres < 0 ? 0 : Cutting(Math.Min(fromTipMillimetres, cutting));

    /// <summary>Volume of the cutting part from the tip, a core closed: frusta between the places where the profile bends.</summary>
    /// <param name="fromTipMillimetres">Up to this distance; beyond the cutting part nothing is added.</param>
    public double VolumeCubicMillimetres(double fromTipMillimetres)
    {
        var to = Math.Clamp(fromTipMillimetres, 0, cutting);
        var bend = taper > 0 ? Math.Clamp((greatest - tip) / taper, 0, to) : to;
        return Frustum(tip, Cutting(bend), bend) + Frustum(Cutting(bend), Cutting(to), to - bend);
    }

    private static double Frustum(double from, double to, double length) => Math.PI * length * ((from * from) + (from * to) + (to * to)) / 12;

    private double Cutting(double fromTip) => Math.Min(greatest, tip + (taper * fromTip));
}
