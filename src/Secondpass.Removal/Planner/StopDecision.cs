using System.Globalization;
using Secondpass.Domain.Plans;
using Secondpass.Removal.Geometry;

namespace Secondpass.Removal.Planner;

/// <summary>One limit on how deep an instrument may go.</summary>
/// <param name="FromEndMillimetres">Not deeper than this short of the end.</param>
/// <param name="InWords">The limit, and what going deeper would need, in words.</param>
internal sealed record StopLimit(double FromEndMillimetres, string InWords);

/// <summary>Where an instrument stops, by which one limit, and what it cuts there.</summary>
/// <param name="Binding">The limit that decides.</param>
/// <param name="Cut">What it cuts at that stop; null where no width was measured or the instrument has no shape.</param>
internal sealed record StopDecision(StopLimit Binding, SpaceCut? Cut);

/// <summary>Finds the deepest stop that keeps every limit.</summary>
/// <remarks>All limits are monotone: what is too much at a stop is too much at every deeper one. Stops lie on a grid of 0.1 mm.</remarks>
/// <param name="measures">What was measured of the canal.</param>
/// <param name="final">Planned final size; null for none.</param>
/// <param name="limits">The plan's limits.</param>
/// <param name="lengthMillimetres">Length from the reference point: no canal is longer; null when not read.</param>
internal sealed class StopFinder(CanalMeasures measures, FinalSize? final, PlanLimits limits, double? lengthMillimetres)
{
    private const double Step = 0.1;
    private const double Slack = 1e-9;
    private const double HighestWithoutLength = 20;

    // The highest level known to lie in the canal: its orifice, else the highest level measured, else the reference point.
    private readonly double highest = measures.PathLength?.Value
        ?? (measures.Widths.Count > 0 ? measures.Widths.Max(width => width.FromEnd.Value) : lengthMillimetres ?? HighestWithoutLength);

    /// <summary>Decides.</summary>
    /// <param name="shape">The instrument; null where it has none.</param>
    /// <param name="places">Limits by place, the safer first: of two equal ones the first binds. At least one.</param>
    /// <returns>The decision; or null with the limit that holds even at the orifice.</returns>
    public (StopDecision? Decision, StopLimit Binding) Find(InstrumentShape? shape, IReadOnlyList<StopLimit> places)
    {
        var place = places.MaxBy(limit => limit.FromEndMillimetres)!;
        if (shape is null)
        {
            return (new StopDecision(place, null), place);
        }

        var stop = place.FromEndMillimetres;
        var binding = place;
        while (WhyNot(shape, stop) is { } reason)
        {
            stop = (Math.Floor((stop / Step) + Slack) + 1) * Step;
            binding = new StopLimit(stop, reason);
            if (stop > Math.Max(highest, place.FromEndMillimetres))
            {
                return (null, binding);
            }
        }

        return (new StopDecision(binding, measures.Widths.Count == 0 ? null : SpaceCut.Of(shape, measures.Widths, stop)), binding);
    }

    /// <summary>The thinnest wall left as deep as an instrument goes, its level and side; null where no wall was measured where the loss is known.</summary>
    /// <param name="cut">What it cuts.</param>
    /// <param name="stopFromEndMillimetres">Its stop.</param>
    public (double LeftMillimetres, WallAtLevel Wall)? ThinnestLeft(SpaceCut cut, double stopFromEndMillimetres)
    {
        (double Left, WallAtLevel Wall)? thinnest = null;
        foreach (var wall in measures.Walls.Where(wall => wall.FromEnd.Value >= stopFromEndMillimetres))
        {
            if (cut.LossPerSideMillimetresAt(wall.FromEnd.Value) is { } loss && (thinnest is null || wall.Counted.Value - loss < thinnest.Value.Left))
            {
                thinnest = (wall.Counted.Value - loss, wall);
            }
        }

        return thinnest;
    }

    private string? WhyNot(InstrumentShape shape, double stop)
    {
        if (measures.Widths.Count > 0)
        {
            var cut = SpaceCut.Of(shape, measures.Widths, stop);
            if (WhyTooThin(cut) is { } thin)
            {
                return thin;
            }

            var most = limits.GreatestLossPerSide.Value;
            if (cut.Levels.Count > 0 && cut.Levels.MaxBy(level => level.DentinePerSideMillimetres) is var worst && worst.DentinePerSideMillimetres > most + Slack)
            {
                return string.Create(
                    CultureInfo.InvariantCulture,
                    $"Dentine cut: 0.1 mm deeper would take {worst.DentinePerSideMillimetres:0.00} mm from each side at {worst.FromEndMillimetres:0.0} mm from the end; {most:0.00} mm is the limit. Deeper needs a smaller taper, or a higher limit.");
            }
        }

        return final is { } shapePlanned ? WhyTooWide(shape, stop, shapePlanned) : null;
    }

    private string? WhyTooThin(SpaceCut cut)
    {
        var least = limits.LeastWallLeft.Value;

        // A wall that is too thin before anything is cut stops what cuts there, not what passes it.
        foreach (var wall in measures.Walls)
        {
            if (cut.LossPerSideMillimetresAt(wall.FromEnd.Value) is { } loss && loss > Slack && wall.Counted.Value - loss < least - Slack)
            {
                return string.Create(
                    CultureInfo.InvariantCulture,
                    $"Wall left: 0.1 mm deeper would leave {RoundedDown(wall.Counted.Value - loss):0.00} mm, {wall.Side}, at {wall.FromEnd.Value:0.0} mm from the end; {least:0.00} mm is the least. Deeper needs a smaller taper, or a measured wall that is thicker.");
            }
        }

        return null;
    }

    private string? WhyTooWide(InstrumentShape shape, double stop, FinalSize planned)
    {
        // Over the cutting part as far as it lies in the canal, both ends included; what the canal has already isn't over-enlarged.
        var reach = Math.Min(shape.CuttingLengthMillimetres, highest - stop);
        var places = Math.Max(1, (int)Math.Ceiling(reach / 0.5));
        for (var i = 0; reach >= 0 && i <= places; i++)
        {
            var fromTip = reach * i / places;
            var level = stop + fromTip;
            var allowed = Math.Max((planned.TipSize / 100.0) + (planned.Taper * level), WidthNow(level));
            var width = shape.SweptDiameterMillimetresAt(fromTip);
            if (width > allowed + Slack)
            {
                return string.Create(
                    CultureInfo.InvariantCulture,
                    $"Planned final size {planned.TipSize}/{Taper(planned.Taper)}: 0.1 mm deeper would open the canal to {width:0.00} mm at {level:0.0} mm from the end, where {allowed:0.00} mm is planned. Deeper needs a larger final size, or a smaller instrument.");
            }
        }

        return null;
    }

    private double WidthNow(double level)
    {
        var near = measures.Widths.Where(width => Math.Abs(width.FromEnd.Value - level) <= 0.5).ToList();
        return near.Count == 0 ? 0 : near.Min(width => Math.Max(width.Filling?.Value ?? 0, width.Canal?.Value ?? 0));
    }

    // What falls short of a limit must not be shown as the limit.
    private static double RoundedDown(double millimetres) => Math.Max(0, Math.Floor(millimetres * 100) / 100);

    private static string Taper(double taper) => taper.ToString(".00", CultureInfo.InvariantCulture);
}
