using Secondpass.Domain.Cases;
using Secondpass.Domain.Instruments;
using Secondpass.Domain.Plans;
using Secondpass.Domain.Quantities;
using Secondpass.Removal.Geometry;

namespace Secondpass.Removal.Planner;

/// <summary>How an instrument comes to a wall.</summary>
public enum WallContact
{
    /// <summary>It turns in the middle of the canal, and touches where it is as wide as the canal.</summary>
    ByWidth,

    /// <summary>It is led against the wall: pre-curved, or drawn along it by hand.</summary>
    Led,
}

/// <summary>How far one kind of instrument reaches a place in a canal.</summary>
/// <param name="Kind">The kind.</param>
/// <param name="Contact">How it comes to the wall.</param>
/// <param name="StopFromEnd">The stop at which it touches most of the place, the shallowest such; null where no stop keeps the limits or it touches nothing.</param>
/// <param name="StopFromReference">The same from the reference point; null without a length from one.</param>
/// <param name="Reference">The reference point's name; null without one.</param>
/// <param name="TouchedFromEndMillimetres">Levels of the place that it touches; null for none.</param>
/// <param name="TouchesAll">Whether it touches every level of the place.</param>
/// <param name="DentineCutCubicMillimetres">Dentine that it cuts at that stop, taken as a round hole in a round canal as wide as the old filling; null where not known.</param>
/// <param name="Limit">The one limit that keeps it from going deeper, in words.</param>
public sealed record KindReach(
    InstrumentKind Kind,
    WallContact Contact,
    Millimetres? StopFromEnd,
    Millimetres? StopFromReference,
    string? Reference,
    Interval? TouchedFromEndMillimetres,
    bool TouchesAll,
    double? DentineCutCubicMillimetres,
    string Limit);

/// <summary>Which instruments of a tray reach a place in a canal and touch its wall there, within the limits that a plan keeps.</summary>
/// <remarks>
/// By geometry only, with the same limits on the stop as the plan (<see cref="RemovalPlanner"/>): places, dentine, walls, planned
/// size. An adaptive core counts as wide as it opens. The canal is taken to be round and as wide as it was measured, else as its
/// old filling; it may be wider by now, and deeper than a film shows. How it curves limits no stop, as in the plan.
/// </remarks>
public static class PassReach
{
    private const double LevelStep = 0.1;
    private const double StopStep = 0.5;
    private const double Slack = 1e-9;

    /// <summary>Asks each kind of a tray.</summary>
    /// <param name="request">What a plan would be made from.</param>
    /// <param name="canal">The canal's name.</param>
    /// <param name="tray">The kinds, in order.</param>
    /// <param name="deepFromEndMillimetres">The place's end towards the canal's end.</param>
    /// <param name="highFromEndMillimetres">Its other end.</param>
    /// <returns>One answer for each kind that has a shape and may be proposed, in the tray's order; none where the canal or its widths at the place are not known.</returns>
    public static IReadOnlyList<KindReach> Of(
        PlanRequest request,
        string canal,
        IReadOnlyList<InstrumentKind> tray,
        double deepFromEndMillimetres,
        double highFromEndMillimetres)
    {
        ArgumentNullException.ThrowIfNull(request);
        ArgumentNullException.ThrowIfNull(tray);
        if (request.Canals.FirstOrDefault(one => one.Name == canal) is not { } record || request.Measures.GetValueOrDefault(canal) is not { Widths.Count: > 0 } measures)
        {
            return [];
        }

        var count = Math.Max(1, (int)Math.Round((highFromEndMillimetres - deepFromEndMillimetres) / LevelStep, MidpointRounding.AwayFromZero));
        var levels = Enumerable.Range(0, count + 1)
            .Select(i => double.Lerp(deepFromEndMillimetres, highFromEndMillimetres, (double)i / count))
            .Select(level => (Level: level, Width: WidthAt(measures.Widths, level)))
            .ToList();
        return levels.Exists(level => level.Width is null)
            ? []
            : [.. tray.Where(kind => InstrumentShape.Of(kind) is not null && SequenceCheck.WhyItDoesNotFit(kind, request.Unit) is null)
                .Select(kind => Of(request, record, measures, kind, [.. levels.Select(level => (level.Level, level.Width!.Value))]))];
    }

    private static KindReach Of(PlanRequest request, CanalRecord canal, CanalMeasures measures, InstrumentKind kind, List<(double Level, double Width)> levels)
    {
        var shape = InstrumentShape.Of(kind)!;
        var length = CanalLength.Of(canal);
        var choice = request.Choices.GetValueOrDefault(canal.Name);
        var contact = kind.Sort.Rotates() ? WallContact.ByWidth : WallContact.Led;
        var (decision, binding) = new StopFinder(measures, choice?.Final, request.Limits, length.End?.Length.Value)
            .Find(shape, new StopPlaces(canal, length, choice).Of(kind, withdrawn: false));
        var none = new KindReach(kind, contact, null, null, null, null, TouchesAll: false, null, binding.InWords);
        if (decision is null)
        {
            return none;
        }

        var deepest = decision.Binding.FromEndMillimetres;
        var best = Stops(deepest, levels[^1].Level)
            .Select(stop => (Stop: stop, Touched: levels.Where(level => Touches(shape, contact, level, stop)).Select(level => level.Level).ToList()))
            .MaxBy(each => each.Touched.Count);
        if (best.Touched is not { Count: > 0 } touched)
        {
            return none;
        }

        return new KindReach(
            kind,
            contact,
            new Millimetres(best.Stop),
            length.End is { } end ? new Millimetres(end.Length.Value - best.Stop) : null,
            length.End?.From.Name,
            new Interval(touched[0], touched[^1]),
            touched.Count == levels.Count,
            SpaceCut.Of(shape, measures.Widths, best.Stop).Volumes().DentineCutCubicMillimetres,
            decision.Binding.InWords);
    }

    // From the place's high end down to the deepest stop allowed; the shallowest first, so that of equals it is taken.
    private static IEnumerable<double> Stops(double deepest, double high)
    {
        for (var stop = Math.Floor(high / StopStep) * StopStep; stop > deepest + Slack; stop -= StopStep)
        {
            yield return stop;
        }

        yield return deepest;
    }

    private static bool Touches(InstrumentShape shape, WallContact contact, (double Level, double Width) at, double stop)
    {
        var fromTip = at.Level - stop;
        if (fromTip < -Slack || fromTip > shape.CuttingLengthMillimetres + Slack)
        {
            return false;
        }

        // What is led touches whichever wall it is led to; what turns in the middle touches a wall where it fills the canal.
        return contact == WallContact.Led || shape.OpenedDiameterMillimetresAt(Math.Max(0, fromTip)) >= at.Width - Slack;
    }

    // Between two levels that were measured the width runs straight; within half a millimetre of one alone it holds.
    private static double? WidthAt(IReadOnlyList<WidthAtLevel> widths, double level)
    {
        const double Near = 0.5;
        List<(double Level, double Width)> known = [.. widths
            .Where(width => width.Canal is not null || width.Filling is not null)
            .Select(width => (width.FromEnd.Value, (width.Canal ?? width.Filling!.Value).Value))
            .OrderBy(width => width.Item1)];
        var above = known.FindIndex(width => width.Level >= level);
        return above switch
        {
            < 0 => level - known[^1].Level <= Near ? known[^1].Width : null,
            0 => known[0].Level - level <= Near ? known[0].Width : null,
            _ => double.Lerp(known[above - 1].Width, known[above].Width, (level - known[above - 1].Level) / (known[above].Level - known[above - 1].Level)),
        };
    }
}
