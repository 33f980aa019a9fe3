namespace Secondpass.Domain.Chairside;

/// <summary>The stretches of a visit that minutes are told of.</summary>
public enum VisitPhase
{
    /// <summary>Access and disassembly, until the filling is first touched.</summary>
    Access,

    /// <summary>From the first touch of filling until length is reached in the last canal.</summary>
    ToLength,

    /// <summary>From the first touch of filling until removal is judged complete in the last canal.</summary>
    Removal,

    /// <summary>From there until shaping ends.</summary>
    Shaping,

    /// <summary>Access, removal and shaping together.</summary>
    Treatment,

    /// <summary>From seated until the patient leaves.</summary>
    Chair,
}

/// <summary>Minutes of one phase.</summary>
/// <param name="Phase">The phase.</param>
/// <param name="ElapsedMinutes">Minutes by the clock from the phase's first mark to its last; null when a mark is missing.</param>
/// <param name="HandsOnMinutes">The same without the time between hands off and hands on; null when it can't be told.</param>
/// <param name="Remark">Why a figure is missing, in a sentence; null when both are there.</param>
public sealed record PhaseMinutes(VisitPhase Phase, double? ElapsedMinutes, double? HandsOnMinutes, string? Remark);

/// <summary>How long the phases of one visit took.</summary>
/// <remarks>
/// Marks are access and disassembly, first touch of filling, length reached, removal judged complete, shaping end. Of marks made
/// for several canals, access and first touch count from the first, the others until the last; so phases join without gap and their
/// minutes add up. Searching for a canal, films and waiting are marked as hands off and don't count as hands-on.
/// </remarks>
public sealed record VisitMinutes
{
    private VisitMinutes(int visit, IReadOnlyList<PhaseMinutes> phases)
    {
        Visit = visit;
        Phases = phases;
    }

    /// <summary>Number of the visit, from 1.</summary>
    public int Visit { get; }

    /// <summary>Every phase, in the order of <see cref="VisitPhase"/>.</summary>
    public IReadOnlyList<PhaseMinutes> Phases { get; }

    /// <summary>One phase.</summary>
    public PhaseMinutes this[VisitPhase phase] => Phases[(int)phase];

    /// <summary>Counts the minutes of a visit, all canals together.</summary>
    /// <param name="entries">All entries of the case in order, corrections among them.</param>
    /// <param name="visit">Number of the visit, from 1.</param>
    public static VisitMinutes Of(IReadOnlyList<ChairsideEntry> entries, int visit) =>
        Of([.. ChairsideRecord.OfVisit(entries, visit).OfType<MomentMarked>()], visit);

    /// <summary>Counts the minutes of one canal in a visit, from marks made for that canal; hands off holds for all.</summary>
    /// <param name="entries">All entries of the case in order, corrections among them.</param>
    /// <param name="visit">Number of the visit, from 1.</param>
    /// <param name="canal">The canal's name.</param>
    public static VisitMinutes OfCanal(IReadOnlyList<ChairsideEntry> entries, int visit, string canal) =>
        Of([.. ChairsideRecord.OfVisit(entries, visit).OfType<MomentMarked>().Where(moment => moment.Canal == canal || IsAboutHands(moment))], visit);

    private static VisitMinutes Of(List<MomentMarked> moments, int visit)
    {
        var handsOff = HandsOff(moments);
        return new VisitMinutes(visit,
        [
            Between(VisitPhase.Access, ChairsideMark.Access, ChairsideMark.RemovalStart),
            Between(VisitPhase.ToLength, ChairsideMark.RemovalStart, ChairsideMark.LengthReached),
            Between(VisitPhase.Removal, ChairsideMark.RemovalStart, ChairsideMark.RemovalComplete),
            Between(VisitPhase.Shaping, ChairsideMark.RemovalComplete, ChairsideMark.ShapingEnd),
            Between(VisitPhase.Treatment, ChairsideMark.Access, ChairsideMark.ShapingEnd),
            Between(VisitPhase.Chair, ChairsideMark.Seated, ChairsideMark.Left),
        ]);

        PhaseMinutes Between(VisitPhase phase, ChairsideMark begins, ChairsideMark ends)
        {
            if (TimeOf(begins) is not { } from)
            {
                return Missing(phase, $"“{Name(begins)}” is not marked.");
            }

            if (TimeOf(ends) is not { } to)
            {
                return Missing(phase, $"“{Name(ends)}” is not marked.");
            }

            if (to < from)
            {
                return Missing(phase, $"“{Name(ends)}” is marked before “{Name(begins)}”.");
            }

            if (ChairsideMark.RemovalComplete is var complete && (begins == complete || ends == complete) && StillOpen() is { Count: > 0 } open)
            {
                return Missing(phase, $"“{Name(complete)}” is not marked in {string.Join(", ", open)}.");
            }

            var elapsed = (to - from).TotalMinutes;
            if (phase == VisitPhase.Chair)
            {
                return new PhaseMinutes(phase, elapsed, null, "Time in the chair is told by the clock only.");
            }

            if (handsOff.Exists(pause => pause.To is null && pause.From < to))
            {
                return new PhaseMinutes(phase, elapsed, null, $"“{Name(ChairsideMark.HandsOff)}” is marked and “{Name(ChairsideMark.HandsOn)}” never after it.");
            }

            var off = handsOff.Sum(pause => Math.Max(0, (Earlier(pause.To ?? to, to) - Later(pause.From, from)).TotalMinutes));
            return new PhaseMinutes(phase, elapsed, elapsed - off, null);
        }

        // The first of what begins, the last of what ends.
        DateTimeOffset? TimeOf(ChairsideMark mark)
        {
            var of = moments.Where(moment => moment.Mark == mark).Select(moment => (DateTimeOffset?)moment.At);
            return mark is ChairsideMark.Seated or ChairsideMark.Access or ChairsideMark.RemovalStart ? of.FirstOrDefault() : of.LastOrDefault();
        }

        List<string> StillOpen() =>
        [
            .. moments
                .Where(moment => moment is { Mark: ChairsideMark.RemovalStart, Canal: not null })
                .Where(start => !moments.Exists(moment => moment.Mark == ChairsideMark.RemovalComplete && moment.At >= start.At && (moment.Canal == start.Canal || moment.Canal is null)))
                .Select(start => start.Canal!)
                .Distinct(),
        ];
    }

    private static PhaseMinutes Missing(VisitPhase phase, string remark) => new(phase, null, null, remark);

    private static List<Pause> HandsOff(List<MomentMarked> moments)
    {
        var pauses = new List<Pause>();
        DateTimeOffset? since = null;
        foreach (var moment in moments.Where(IsAboutHands))
        {
            if (moment.Mark == ChairsideMark.HandsOff)
            {
                since ??= moment.At;
            }
            else if (since is { } from)
            {
                pauses.Add(new Pause(from, moment.At));
                since = null;
            }
        }

        if (since is { } open)
        {
            pauses.Add(new Pause(open, null));
        }

        return pauses;
    }

    private static bool IsAboutHands(MomentMarked moment) => moment.Mark is ChairsideMark.HandsOff or ChairsideMark.HandsOn;

    private static DateTimeOffset Earlier(DateTimeOffset one, DateTimeOffset other) => one < other ? one : other;

    private static DateTimeOffset Later(DateTimeOffset one, DateTimeOffset other) => one > other ? one : other;

    /// <summary>A mark in the words of the page.</summary>
    /// <param name="mark">The mark.</param>
    public static string Name(ChairsideMark mark) => mark switch
    {
        ChairsideMark.Seated => "seated",
        ChairsideMark.Access => "access begins",
        ChairsideMark.RemovalStart => "first touch of filling",
        ChairsideMark.LengthReached => "length reached",
        ChairsideMark.RemovalComplete => "removal complete",
        ChairsideMark.ShapingEnd => "shaping ended",
        ChairsideMark.HandsOff => "hands off",
        ChairsideMark.HandsOn => "hands on",
        ChairsideMark.Left => "patient leaves",
        _ => throw new ArgumentOutOfRangeException(nameof(mark), mark, "No such mark."),
    };

    private sealed record Pause(DateTimeOffset From, DateTimeOffset? To);
}
