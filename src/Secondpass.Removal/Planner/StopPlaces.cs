using System.Globalization;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Instruments;
using Secondpass.Domain.Plans;

namespace Secondpass.Removal.Planner;

/// <summary>The places in a canal that an instrument goes no deeper than, whatever its shape.</summary>
/// <param name="canal">The canal.</param>
/// <param name="length">The length that it is planned by.</param>
/// <param name="choice">What the dentist set for it; null for nothing.</param>
internal sealed class StopPlaces(CanalRecord canal, CanalLength length, CanalChoice? choice)
{
    /// <summary>Where the old filling ends, in mm short of the canal's end; negative beyond it; null when not known.</summary>
    public double? FillingEnd => canal.FillingEndToCanalEnd?.Value ?? length.FromEnd(LengthEnd.FillingEnd);

    /// <summary>Whether the old filling reached beyond the end.</summary>
    public bool IsBeyond => canal.Filling == CanalFilling.BeyondEnd || FillingEnd < 0;

    /// <summary>The obstacle that decides; null for none.</summary>
    public Obstacle? InTheWay => ((Obstacle[])[Obstacle.Perforation, Obstacle.SeparatedInstrument, Obstacle.Ledge, Obstacle.Blockage])
        .Where(canal.Obstacles.Contains)
        .Select(obstacle => (Obstacle?)obstacle)
        .FirstOrDefault();

    /// <summary>Where the obstacle lies, in mm from the end: where a file stopped; else, where the filling is short, its end is the best guess and is said to be one.</summary>
    public double? ObstacleFromEnd => length.FromEnd(LengthEnd.FileStop) ?? (FillingEnd > 0 ? FillingEnd : null);

    /// <summary>The limits by place for one kind of instrument, at least one; the safer first: of two at the same place the first is named.</summary>
    /// <param name="kind">The kind.</param>
    /// <param name="withdrawn">Whether filling beyond the end was drawn out before.</param>
    public List<StopLimit> Of(InstrumentKind kind, bool withdrawn)
    {
        var places = new List<StopLimit>();
        if (choice?.NoDeeperThan is { } own && length.End is { } measured)
        {
            places.Add(new StopLimit(
                measured.Length.Value - own.Value,
                string.Create(CultureInfo.InvariantCulture, $"Your own limit for {canal.Name}: no deeper than {own.Value:0.0} mm. Deeper needs you to change it.")));
        }

        if (InTheWay is { } obstacle && ObstacleFromEnd is { } at)
        {
            places.Add(new StopLimit(
                at + PlanFacts.JustShort.Value,
                string.Create(CultureInfo.InvariantCulture, $"{InWords(obstacle)}: just short of it, by {PlanFacts.JustShort.Value:0} mm. Deeper needs the obstacle passed by hand first.")));
        }

        if (IsBeyond && !withdrawn)
        {
            places.Add(new StopLimit(
                PlanFacts.KeptUnsoftened.Value,
                string.Create(CultureInfo.InvariantCulture, $"Filling beyond the end: the last {PlanFacts.KeptUnsoftened.Value:0} mm stay whole and unsoftened, to be drawn out. Deeper needs them out first.")));
        }

        if (kind.Sort.IsDriven())
        {
            places.Add(length.ReadByMeter
                ? new StopLimit(length.MarginMillimetres, string.Create(CultureInfo.InvariantCulture, $"Margin of driven instruments: {length.MarginMillimetres:0.0} mm short of the {length.EndInWords} that a length meter read. Deeper is for hand files."))
                : new StopLimit(length.MarginMillimetres, string.Create(CultureInfo.InvariantCulture, $"Margin of driven instruments: {length.MarginMillimetres:0.0} mm short of the {length.EndInWords} while its length comes from a film. Deeper needs a length-meter reading after clearing.")));
        }

        if (FillingEnd is { } filled && filled > 0)
        {
            places.Add(new StopLimit(filled, string.Create(CultureInfo.InvariantCulture, $"The old filling ends {filled:0.0} mm short of the end: nothing to remove below it. Deeper is for a small hand file first.")));
        }

        if (canal is { Parent: { } parent, Meeting: { Joins: true, FromEnd: { } joins } })
        {
            places.Add(new StopLimit(joins.Value, string.Create(CultureInfo.InvariantCulture, $"{canal.Name} joins {parent} {joins.Value:0.0} mm from the end: what lies below is done in {parent}.")));
        }

        places.Add(new StopLimit(0, $"The {length.EndInWords} of {canal.Name}: nothing goes beyond it."));
        return places;
    }

    /// <summary>An obstacle in words.</summary>
    public static string InWords(Obstacle obstacle) => obstacle switch
    {
        Obstacle.Ledge => "Ledge",
        Obstacle.SeparatedInstrument => "Separated instrument",
        Obstacle.Perforation => "Perforation",
        _ => "Blockage",
    };
}
