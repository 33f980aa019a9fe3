using System.Globalization;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Chairside;
using Secondpass.Domain.Plans;
using Secondpass.Domain.Quantities;
using Secondpass.Exchange.Wording;

namespace Secondpass.Job.Chairside;

/// <summary>How far a canal is in a visit.</summary>
public enum CanalState
{
    /// <summary>Filling not touched yet.</summary>
    NotBegun,

    /// <summary>Filling is being removed.</summary>
    Removing,

    /// <summary>Length is reached; removal is not judged complete.</summary>
    ToLength,

    /// <summary>Removal is judged complete.</summary>
    Complete,
}

/// <summary>A canal on the page of a visit.</summary>
/// <param name="Name">Its name.</param>
/// <param name="State">How far it is, over all visits.</param>
public sealed record ShownCanal(string Name, CanalState State);

/// <summary>A running clock: from when, and since when it stands still.</summary>
/// <param name="Label">What it counts.</param>
/// <param name="Since">When it began, UTC.</param>
public sealed record ShownClock(string Label, DateTimeOffset Since);

/// <summary>An entry in the list.</summary>
/// <param name="Number">Its number in the case.</param>
/// <param name="At">When, UTC, as it holds.</param>
/// <param name="Words">What, as it holds.</param>
/// <param name="Holds">Whether it holds.</param>
/// <param name="Corrected">What was corrected and why; null when nothing.</param>
/// <param name="IsMark">Whether it is a mark, whose time can be corrected.</param>
/// <param name="IsUntold">Whether it is an event of which nobody is noted to have been told.</param>
public sealed record ShownEntry(int Number, DateTimeOffset At, string Words, bool Holds, string? Corrected, bool IsMark, bool IsUntold);

/// <summary>One step of the plan, next in a canal.</summary>
/// <param name="Step">The step.</param>
/// <param name="Ordinal">Its place among the steps of this canal, from 1.</param>
/// <param name="Count">How many steps this canal has.</param>
public sealed record ShownStep(RemovalStep Step, int Ordinal, int Count);

/// <summary>One step of taking the tooth apart.</summary>
/// <param name="Step">The step.</param>
/// <param name="IsDone">Whether it was ticked off.</param>
public sealed record ShownTakeDown(RemovalStep Step, bool IsDone);

/// <summary>A visit as its page shows it: one canal, one next step.</summary>
public sealed record ShownVisit
{
    private ShownVisit(int visit) => Visit = visit;

    /// <summary>Number of the visit, from 1.</summary>
    public int Visit { get; }

    /// <summary>Whether the patient left.</summary>
    public bool IsOver { get; private init; }

    /// <summary>Whether anything was noted in it.</summary>
    public bool HasBegun { get; private init; }

    /// <summary>Canals to be treated, in the order of the case.</summary>
    public IReadOnlyList<ShownCanal> Canals { get; private init; } = [];

    /// <summary>The canal in hand; null when none is noted yet.</summary>
    public string? Canal { get; private init; }

    /// <summary>The mark that comes next; null when another canal comes next or nothing does.</summary>
    public ChairsideMark? Next { get; private init; }

    /// <summary>The canal that comes next when this one is complete; null when none does.</summary>
    public string? NextCanal { get; private init; }

    /// <summary>Whether hands are off now.</summary>
    public bool HandsAreOff { get; private init; }

    /// <summary>The running clock; null before the visit begins and after it.</summary>
    public ShownClock? Clock { get; private init; }

    /// <summary>How the plan takes the tooth apart; empty without a plan and once filling was touched.</summary>
    public IReadOnlyList<ShownTakeDown> TakeDown { get; private init; } = [];

    /// <summary>The plan's next step in this canal; null when there is no plan or nothing is left of it.</summary>
    public ShownStep? Step { get; private init; }

    /// <summary>Entries of this visit, newest first.</summary>
    public IReadOnlyList<ShownEntry> Entries { get; private init; } = [];

    /// <summary>Minutes of this visit, phase by phase, in words; and why one is missing.</summary>
    public IReadOnlyList<(string Phase, string Minutes, string? Remark)> Minutes { get; private init; } = [];

    /// <summary>The reference point last used in this canal; null when none was.</summary>
    public string? Reference { get; private init; }

    /// <summary>The visit that is going on, or the one to come when the last one is over.</summary>
    /// <param name="it">The case.</param>
    public static int Current(DentalCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        return it.Chairside.Count == 0 ? 1 : it.Chairside.Max(entry => entry.Visit);
    }

    /// <summary>Shows the current visit.</summary>
    /// <param name="it">The case.</param>
    /// <param name="canal">The canal in hand; null or unknown for the first that isn't complete.</param>
    /// <param name="visit">Number of the visit.</param>
    public static ShownVisit Of(DentalCase it, string? canal, int visit)
    {
        ArgumentNullException.ThrowIfNull(it);
        var all = ChairsideRecord.Read(it.Chairside).Select(entry => entry.Holds).OfType<ChairsideEntry>().ToList();
        var entries = ChairsideRecord.OfVisit(it.Chairside, visit);
        var marks = entries.OfType<MomentMarked>().ToList();
        var canals = it.Canals
            .Where(record => record.Intent != CanalIntent.LeaveAlone && (record.Found || record.Intent == CanalIntent.Retreat))
            .Select(record => new ShownCanal(record.Name, StateOf(all, record.Name)))
            .ToList();
        var inHand = canals.Find(one => one.Name == canal)
            ?? (canals.Find(one => one.State is CanalState.Removing or CanalState.ToLength) ?? canals.Find(one => one.State != CanalState.Complete) ?? canals.FirstOrDefault());
        var nextCanal = inHand is { State: not CanalState.Complete } ? null : canals.Find(one => one.State != CanalState.Complete)?.Name;
        var isOver = Has(ChairsideMark.Left);
        return new ShownVisit(visit)
        {
            HasBegun = entries.Count > 0,
            IsOver = isOver,
            Canals = canals,
            Canal = inHand?.Name,
            Next = isOver || (Has(ChairsideMark.Access) && nextCanal is not null) ? null : NextMark(inHand?.State),
            NextCanal = isOver || !Has(ChairsideMark.Access) ? null : nextCanal,
            HandsAreOff = marks.LastOrDefault(moment => moment.Mark is ChairsideMark.HandsOff or ChairsideMark.HandsOn)?.Mark == ChairsideMark.HandsOff,
            Clock = isOver ? null : ClockOf(marks),
            TakeDown = all.OfType<MomentMarked>().Any(moment => moment.Mark == ChairsideMark.RemovalStart) ? [] : [.. (it.Plan?.Steps ?? []).Where(step => step.Phase == RemovalPhase.TakeDown).Select(step => new ShownTakeDown(step, all.OfType<TakenDown>().Any(done => done.What == step.Action)))],
            Step = StepOf(it, all, inHand?.Name),
            Entries = [.. ChairsideRecord.Read(it.Chairside).Where(entry => (entry.Holds ?? entry.Written).Visit == visit).Select(Shown).OrderByDescending(entry => entry.At)],
            Minutes = [.. VisitMinutes.Of(it.Chairside, visit).Phases.Select(phase => (MinutesWords.Name(phase.Phase), MinutesWords.Cell(phase), phase.Remark))],
            Reference = ReferenceOf(it, all, inHand?.Name),
        };

        bool Has(ChairsideMark mark) => marks.Exists(moment => moment.Mark == mark);

        ChairsideMark? NextMark(CanalState? state)
        {
            if (!Has(ChairsideMark.Access))
            {
                return Has(ChairsideMark.Seated) ? ChairsideMark.Access : ChairsideMark.Seated;
            }

            return state switch
            {
                CanalState.NotBegun => ChairsideMark.RemovalStart,
                CanalState.Removing => ChairsideMark.LengthReached,
                CanalState.ToLength => ChairsideMark.RemovalComplete,
                _ => Has(ChairsideMark.ShapingEnd) ? ChairsideMark.Left : ChairsideMark.ShapingEnd,
            };
        }
    }

    /// <summary>What a mark says on its button.</summary>
    /// <param name="mark">The mark.</param>
    public static string Words(ChairsideMark mark) => mark switch
    {
        ChairsideMark.Seated => "Patient seated",
        ChairsideMark.Access => "Access begins",
        ChairsideMark.RemovalStart => "First touch of filling",
        ChairsideMark.LengthReached => "Length reached",
        ChairsideMark.RemovalComplete => "Removal complete",
        ChairsideMark.ShapingEnd => "Shaping ended",
        ChairsideMark.HandsOff => "Hands off",
        ChairsideMark.HandsOn => "Hands on",
        ChairsideMark.Left => "Patient leaves",
        _ => throw new ArgumentOutOfRangeException(nameof(mark), mark, "No such mark."),
    };

    /// <summary>Whether a mark is made for a canal rather than for the tooth.</summary>
    /// <param name="mark">The mark.</param>
    public static bool IsOfCanal(ChairsideMark mark) => mark is ChairsideMark.RemovalStart or ChairsideMark.LengthReached or ChairsideMark.RemovalComplete;

    /// <summary>A length as read, such as "17.5 mm from the mesiobuccal cusp, by the stop on an instrument".</summary>
    /// <param name="reading">The reading.</param>
    public static string Words(LengthReading reading)
    {
        ArgumentNullException.ThrowIfNull(reading);
        return $"{Length(reading.Length)} from the {reading.From.Name}, to the {Words(reading.To)}, {Words(reading.Source)}";
    }

    /// <summary>An end in words.</summary>
    /// <param name="end">The end.</param>
    public static string Words(LengthEnd end) => end switch
    {
        LengthEnd.RadiographicApex => "radiographic apex",
        LengthEnd.Foramen => "foramen",
        LengthEnd.WorkingLength => "working length",
        LengthEnd.FileStop => "point where the file stopped",
        LengthEnd.FillingEnd => "end of the old filling",
        LengthEnd.Meeting => "split or join",
        _ => throw new ArgumentOutOfRangeException(nameof(end), end, "No such end."),
    };

    /// <summary>A source in words.</summary>
    /// <param name="source">The source.</param>
    public static string Words(LengthSource source) => source switch
    {
        LengthSource.Film => "on a film",
        LengthSource.FilmWithFile => "on a film with a file in place",
        LengthSource.LengthMeter => "by length meter",
        LengthSource.ConeBeamScan => "on a cone-beam scan",
        LengthSource.InstrumentStop => "by the stop on the instrument",
        _ => throw new ArgumentOutOfRangeException(nameof(source), source, "No such source."),
    };

    /// <summary>A planned stop to a tenth of a millimetre: a hand sets none finer.</summary>
    /// <param name="length">The stop, as it was computed.</param>
    public static string Stop(Millimetres length) => MeasureWords.Length(length);

    /// <summary>A length as it was read, at least to a tenth.</summary>
    /// <param name="length">The length.</param>
    public static string Length(Millimetres length) => length.Value.ToString("0.0###", CultureInfo.InvariantCulture) + " mm";

    private static CanalState StateOf(List<ChairsideEntry> all, string canal)
    {
        var last = all.OfType<MomentMarked>()
            .Where(moment => IsOfCanal(moment.Mark) && (moment.Canal == canal || moment.Canal is null))
            .OrderBy(moment => moment.At)
            .LastOrDefault();
        return last?.Mark switch
        {
            ChairsideMark.RemovalStart => CanalState.Removing,
            ChairsideMark.LengthReached => CanalState.ToLength,
            ChairsideMark.RemovalComplete => CanalState.Complete,
            _ => CanalState.NotBegun,
        };
    }

    // What the dentist times now: the phase that is open.
    private static ShownClock? ClockOf(List<MomentMarked> marks)
    {
        var (label, begins) = marks.LastOrDefault(moment => moment.Mark is not (ChairsideMark.HandsOff or ChairsideMark.HandsOn or ChairsideMark.LengthReached))?.Mark switch
        {
            ChairsideMark.Access => ("Access", ChairsideMark.Access),
            ChairsideMark.RemovalStart or ChairsideMark.RemovalComplete when IsOpen() => ("Removal", ChairsideMark.RemovalStart),
            ChairsideMark.RemovalComplete => ("Shaping", ChairsideMark.RemovalComplete),
            ChairsideMark.ShapingEnd => ("Since shaping", ChairsideMark.ShapingEnd),
            ChairsideMark.Seated => ("In the chair", ChairsideMark.Seated),
            _ => (string.Empty, ChairsideMark.Left),
        };
        var since = begins == ChairsideMark.RemovalStart ? marks.Find(moment => moment.Mark == begins) : marks.FindLast(moment => moment.Mark == begins);
        return since is null ? null : new ShownClock(label, since.At);

        bool IsOpen() => marks
            .Where(moment => moment.Mark == ChairsideMark.RemovalStart)
            .Any(start => !marks.Exists(moment => moment.Mark == ChairsideMark.RemovalComplete && moment.At >= start.At && (moment.Canal == start.Canal || moment.Canal is null)));
    }

    private static ShownStep? StepOf(DentalCase it, List<ChairsideEntry> all, string? canal)
    {
        if (it.Plan is not { } plan || canal is null)
        {
            return null;
        }

        var steps = plan.Steps.Where(step => step.Branch == canal && step.Phase != RemovalPhase.TakeDown).ToList();

        // What was done carries on from where the plan stands; a step that was passed over is not asked for again.
        var reached = 0;
        foreach (var entry in all.OfType<StepDone>().Where(entry => entry.Canal == canal))
        {
            reached = Math.Max(reached, 1 + steps.FindIndex(reached, step => entry.Instrument == step.Instrument || (entry.KindCode is not null && entry.KindCode == step.KindCode)));
        }

        var next = steps.FindIndex(reached, step => step.Instrument is not null);
        return next < 0 ? null : new ShownStep(steps[next], next + 1, steps.Count);
    }

    private static string? ReferenceOf(DentalCase it, List<ChairsideEntry> all, string? canal) =>
        all.OfType<StepDone>().LastOrDefault(step => step.Canal == canal && step.Depth is not null)?.Depth?.From.Name
        ?? (it.Canals.FirstOrDefault(record => record.Name == canal)?.Lengths is [.., var last] ? last.From.Name : null);

    private static ShownEntry Shown(NumberedEntry entry)
    {
        var said = entry.Holds ?? entry.Written;
        var corrected = entry.WhyCorrected is null ? null : entry.Holds is null ? $"Doesn't hold: {entry.WhyCorrected}" : $"Corrected: {entry.WhyCorrected}";
        return new ShownEntry(entry.Number, said.At, Words(said), entry.Holds is not null, corrected, said is MomentMarked, said is EventHappened { ToldTo: null });
    }

    /// <summary>What was noted at the chair, such as "First touch of filling, P"; nothing for a correction.</summary>
    /// <param name="entry">The entry.</param>
    /// <param name="called">How a canal is called; null for its name.</param>
    public static string Words(ChairsideEntry entry, Func<string, string>? called = null) => entry switch
    {
        MomentMarked mark => Words(mark.Mark) + (mark.Canal is { } canal ? $", {Called(canal, called)}" : string.Empty),
        TakenDown taken => $"Done: {taken.What}",
        StepDone step => string.Join(", ", new[] { $"{Called(step.Canal, called)}: {step.Instrument}", step.Depth is { } depth ? Words(depth) : null, step.Note }.OfType<string>()),
        SeenByEye seen => string.Join(", ", new[] { $"{Called(seen.Canal, called)}: {(seen.FillingSeen ? "filling seen" : "seen clean")}", seen.Wall is { } wall ? $"{wall} wall" : null, seen.FromReference is { } at ? $"at {Length(at)}" : null }.OfType<string>()),
        EventHappened happened => string.Join(", ", new[]
        {
            EventCard.Of(happened.Event).Name + (happened.Canal is { } canal ? $" in {Called(canal, called)}" : string.Empty),
            happened.FragmentLength is { } fragment ? $"fragment {Length(fragment)}" : null,
            happened.FromReference is { } level ? $"at {Length(level.Length)} from the {level.From.Name}" : null,
            happened.Note,
            happened.ToldTo is { } told ? $"told: {told}" : "nobody told yet",
        }.OfType<string>()),
        _ => string.Empty,
    };

    private static string Called(string canal, Func<string, string>? called) => called is null ? canal : called(canal);
}
