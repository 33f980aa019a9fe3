using System.Globalization;
using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Instruments;
using Secondpass.Domain.Plans;
using Secondpass.Domain.Quantities;
using Secondpass.Removal.Geometry;

namespace Secondpass.Removal.Planner;

/// <summary>The steps of one canal branch, with what they rest on.</summary>
internal sealed class CanalSteps
{
    private const string ThenWhat = "Fill to there and follow; surgery; or refer.";
    private const double LeastReachMillimetres = 1;

    private readonly PlanRequest request;
    private readonly Toolbox tools;
    private readonly CanalRecord canal;
    private readonly CanalMeasures measures;
    private readonly CanalChoice? choice;
    private readonly CanalLength length;
    private readonly StopPlaces places;
    private readonly StopFinder stops;
    private readonly List<RemovalStep> steps = [];
    private readonly List<string> assumptions = [];
    private readonly List<(InstrumentShape Shape, double Stop)> reachedBelow = [];
    private bool withdrawn;

    public CanalSteps(PlanRequest request, Toolbox tools, CanalRecord canal)
    {
        this.request = request;
        this.tools = tools;
        this.canal = canal;
        measures = request.Measures.GetValueOrDefault(canal.Name) ?? CanalMeasures.None;
        choice = request.Choices.GetValueOrDefault(canal.Name);
        length = CanalLength.Of(canal);
        places = new StopPlaces(canal, length, choice);
        stops = new StopFinder(measures, choice?.Final, request.Limits, length.End?.Length.Value);
    }

    /// <summary>The steps in order.</summary>
    public IReadOnlyList<RemovalStep> Steps => steps;

    /// <summary>What they rest on, in sentences.</summary>
    public IReadOnlyList<string> Assumptions => assumptions;

    private double? FillingEnd => places.FillingEnd;

    private bool IsBeyond => places.IsBeyond;

    private bool IsSplitBranch => canal is { Parent: not null, Meeting.Joins: false };

    // Where it leaves its trunk: what lies above belongs to the trunk, its filling, steps and minutes. Null for a trunk, or where that level is not known.
    private double? Split => IsSplitBranch ? canal.Meeting!.FromEnd?.Value : null;

    private Obstacle? InTheWay => places.InTheWay;

    private double? ObstacleFromEnd => places.ObstacleFromEnd;

    public void Plan()
    {
        SayWhatIsKnown();
        switch (request.Filling)
        {
            case OldFilling.SilverPoint:
                PlanSilverPoint();
                break;
            case OldFilling.CarrierBased:
                Coronal();
                Withdraw("Pass the carrier with it, let it grip, and draw both out; the gutta-percha around it softened before, the carrier itself not melted.", "carrier");
                Grip(InstrumentSort.Forceps, "Grip the carrier's end and draw it out.", "carrier");
                Sequence(_ => true);
                break;
            case OldFilling.SingleCone:
                Withdraw("Pass the cone with it, let it grip, and draw both out in one piece. No heat, no solvent.", "cone");
                Sequence(_ => true);
                break;
            default:
                Coronal();
                Sequence(kind => !IsBeyond || kind.Sort != InstrumentSort.AdaptiveCoreFile);
                if (IsBeyond)
                {
                    Withdraw("Pass the apical filling with it, let it grip, and draw it out in one piece. The apical part stays unsoftened: no heat, no solvent there.", "filling beyond the end");
                    Sequence(kind => kind.Sort == InstrumentSort.AdaptiveCoreFile);
                }

                break;
        }

        PlanObstacle();
    }

    private void SayWhatIsKnown()
    {
        var name = canal.Name;
        if (length.End is { } end)
        {
            var error = length.ReadByMeter
                ? string.Empty
                : string.Create(CultureInfo.InvariantCulture, $"; such a length errs by about {PlanFacts.FilmLengthMargin.Value:0} mm until a length meter reads it after clearing");
            assumptions.Add(string.Create(CultureInfo.InvariantCulture, $"{name}: {end.Length.Value:0.0} mm from the {end.From.Name} to the {CanalLength.InWords(end.To)}, {CanalLength.InWords(end.Source)}{error}."));
        }
        else
        {
            assumptions.Add($"{name}: no length from a reference point is noted. Stops are given short of the end only; it is taken to err by about 2 mm.");
        }

        if (length.Void > 0)
        {
            assumptions.Add(string.Create(CultureInfo.InvariantCulture, $"{name}: {length.Void} older length(s) don't count: their reference point was reduced since."));
        }

        if (Split is { } split)
        {
            assumptions.Add(string.Create(CultureInfo.InvariantCulture, $"{name} leaves {canal.Parent} {split:0.0} mm from its end: only what lies below that is counted here, the rest in {canal.Parent}."));
        }

        if (measures.SeenAsOneMillimetres is { } one)
        {
            assumptions.Add(string.Create(CultureInfo.InvariantCulture, $"{name}: from {one.High:0.0} to {one.Low:0.0} mm from the end the film shows the fillings of two branches as one; its width there is drawn straight between those above and below."));
        }

        if (measures.Widths.Count == 0)
        {
            assumptions.Add($"{name}: widths of filling and canal are not measured, so dentine cut and wall left are not known.");
        }
        else if (measures.Widths.All(width => width.Canal is null))
        {
            assumptions.Add($"{name}: the canal is taken to be as wide as its filling; dentine cut is an upper estimate.");
        }

        assumptions.Add(WallsInWords());
        if (measures.Schneider is { } angle)
        {
            assumptions.Add($"{name}: {CurvatureClass.Of(angle).InWords}. A film doesn't show how it curves towards or away from you.");
        }

        if (choice?.Final is null)
        {
            assumptions.Add($"{name}: no final size is planned, so over-enlargement is not checked.");
        }

        if (FillingEnd is null && canal.Filling != CanalFilling.BeyondEnd)
        {
            assumptions.Add($"{name}: where its filling ends is not known; it is taken to reach the end.");
        }

        if (canal.Meeting is { FromEnd: null } meeting && canal.Parent is { } parent)
        {
            assumptions.Add($"{name}: the level at which it {(meeting.Joins ? "joins" : "leaves")} {parent} is not known.");
        }
    }

    private string WallsInWords()
    {
        var own = measures.Walls.Where(wall => IsOwn(wall.FromEnd.Value)).ToList();
        if (own.Count == 0)
        {
            return $"{canal.Name}: wall not measured{(Split is null ? string.Empty : " below the split")}.";
        }

        var thinnest = own.MinBy(wall => wall.Counted);
        var allowance = thinnest.Allowance.Value > 0
            ? string.Create(CultureInfo.InvariantCulture, $" ({thinnest.Measured.Value:0.00} mm less {thinnest.Allowance.Value:0.00} mm for a concavity that a film doesn't show)")
            : string.Empty;
        var source = thinnest.Source == WallSource.Film ? "on the film" : "on a cone-beam scan";
        return string.Create(CultureInfo.InvariantCulture, $"{canal.Name}: thinnest wall measured {source}: {thinnest.Counted.Value:0.00} mm, {thinnest.Side}, at {thinnest.FromEnd.Value:0.0} mm from the end{allowance}. Sides that no film or scan shows are not measured.");
    }

    private void Coronal()
    {
        // The trunk's steps have passed a branch's coronal part already; and a sequence may begin with its own.
        if (IsSplitBranch || SequenceKinds().Any(pair => PhaseOf(pair.Kind) == RemovalPhase.Coronal))
        {
            return;
        }

        if ((tools.OfSort(InstrumentSort.HeatedPlugger) ?? tools.OfSort(InstrumentSort.OrificeOpener)) is not { } kind)
        {
            return;
        }

        var depth = PlanFacts.CoronalDepth.Value;
        var stop = measures.PathLength is { } path && path.Value > depth ? path.Value - depth : (double?)null;
        Add(
            RemovalPhase.Coronal,
            kind,
            string.Create(CultureInfo.InvariantCulture, $"Take the filling out to {depth:0} mm below the orifice: it guides what follows."),
            stop,
            string.Create(CultureInfo.InvariantCulture, $"Coronal part: {depth:0} mm below the orifice. Deeper is for the next instrument."));
    }

    private IEnumerable<(SequenceStep Step, InstrumentKind Kind)> SequenceKinds() =>
        request.Sequence.Steps.Select(step => (step, tools.Find(step.KindCode)!));

    private void Sequence(Func<InstrumentKind, bool> taken)
    {
        foreach (var (step, kind) in SequenceKinds().Where(pair => taken(pair.Kind)))
        {
            if (!tools.MayBeProposed(kind))
            {
                continue;
            }

            var shape = InstrumentShape.Of(kind);
            var (decision, binding) = stops.Find(shape, places.Of(kind, withdrawn));
            var reached = decision is null || (measures.PathLength is { } path && path.Value - decision.Binding.FromEndMillimetres < LeastReachMillimetres)
                ? null
                : decision;
            if (reached is null)
            {
                tools.Refuse(new Refusal(
                    "no_room",
                    $"{kind.Name} is not taken in {canal.Name}: there is no stop below the orifice that keeps the limits. {binding.InWords}",
                    "Take a smaller taper in the sequence, or set other limits."));
                continue;
            }

            var stop = reached.Binding.FromEndMillimetres;
            if (IsDoneInTheTrunk(stop))
            {
                continue;
            }

            if (Split is { } split && shape is not null && PhaseOf(kind) == RemovalPhase.Bulk)
            {
                if (reachedBelow.Exists(before => IsAsWide(before, (shape, stop), split)))
                {
                    assumptions.Add($"{canal.Name}: {kind.Name} is not taken again below the split: what goes before it there is as wide.");
                    continue;
                }

                reachedBelow.Add((shape, stop));
            }

            Add(PhaseOf(kind), kind, ActionOf(kind, step), stop, reached.Binding.InWords, step, reached.Cut);
        }
    }

    private bool IsOwn(double fromEnd) => !(fromEnd > Split);

    private bool IsDoneInTheTrunk(double stop) => stop >= Split;

    private static bool IsAsWide((InstrumentShape Shape, double Stop) before, (InstrumentShape Shape, double Stop) next, double split)
    {
        const int Places = 20;
        return Enumerable.Range(0, Places + 1)
            .Select(place => double.Lerp(next.Stop, split, (double)place / Places))
            .All(level => before.Shape.SweptDiameterMillimetresAt(level - before.Stop) >= next.Shape.SweptDiameterMillimetresAt(level - next.Stop));
    }

    private void Withdraw(string action, string what)
    {
        if (tools.OfSort(InstrumentSort.HedstromFile, 25) is not { } kind && (kind = tools.OfSort(InstrumentSort.HedstromFile)) is null)
        {
            return;
        }

        withdrawn = true;
        var limits = places.Of(kind, withdrawn);
        if (!length.ReadByMeter)
        {
            limits.Insert(0, new StopLimit(
                PlanFacts.JustShort.Value,
                string.Create(CultureInfo.InvariantCulture, $"Beside the {what}: {PlanFacts.JustShort.Value:0} mm short of the {length.EndInWords} while its length comes from a film. Deeper needs a length-meter reading.")));
        }

        var binding = limits.MaxBy(limit => limit.FromEndMillimetres)!;
        if (IsDoneInTheTrunk(binding.FromEndMillimetres))
        {
            return;
        }

        Add(RemovalPhase.Bulk, kind, action, binding.FromEndMillimetres, binding.InWords, attempts: true, minutes: request.Limits.WithdrawalMinutes);
    }

    private void Grip(InstrumentSort sort, string action, string what)
    {
        // What stands in a trunk is gripped there, once.
        if (!IsSplitBranch && tools.OfSort(sort) is { } kind)
        {
            Add(RemovalPhase.Bulk, kind, action, null, $"Where the {what} can be gripped. Deeper needs more of it freed.", attempts: true, minutes: request.Limits.WithdrawalMinutes);
        }
    }

    private void PlanSilverPoint()
    {
        Withdraw("Pass the silver point with it and loosen it; never turn hard on the point.", "silver point");
        Grip(InstrumentSort.Forceps, "Grip the point's end and draw it out along its axis.", "silver point");
        Grip(InstrumentSort.ExtractorTube, "If it can't be gripped: free its end by hand, slide the tube over it and draw.", "silver point");
        foreach (var (_, kind) in SequenceKinds().Where(pair => PhaseOf(pair.Kind) != RemovalPhase.Walls))
        {
            tools.Refuse(kind.Sort == InstrumentSort.UltrasonicFile
                ? new Refusal(
                    "never_ultrasonics_on_silver",
                    $"{kind.Name} is not taken in {canal.Name}: a silver point is never touched by ultrasonics; the metal is soft and breaks off.",
                    "Work around the point by hand; ultrasonics come back once it is out and seen to be out.")
                : new Refusal(
                    "silver_point_first",
                    $"{kind.Name} is not taken in {canal.Name} while the silver point is in: it can't cut metal.",
                    "Plan again once the point is out, should filling be left."));
        }

        Sequence(kind => PhaseOf(kind) == RemovalPhase.Walls);
    }

    private void PlanObstacle()
    {
        if (InTheWay is not { } obstacle)
        {
            return;
        }

        var at = ObstacleFromEnd;
        if (at is null)
        {
            assumptions.Add($"{canal.Name}: the level of the {StopPlaces.InWords(obstacle).ToLowerInvariant()} is not known; stops don't take it into account. Note where a file stops.");
        }
        else if (length.FromEnd(LengthEnd.FileStop) is null)
        {
            assumptions.Add($"{canal.Name}: the {StopPlaces.InWords(obstacle).ToLowerInvariant()} is taken to lie where the old filling ends; no file stop is noted.");
        }

        switch (obstacle)
        {
            case Obstacle.Perforation:
                assumptions.Add($"{canal.Name}: a perforation is noted: nothing is taken past it before it is repaired, and irrigant may leave the canal there.");
                return;
            case Obstacle.SeparatedInstrument:
                assumptions.Add(string.Create(
                    CultureInfo.InvariantCulture,
                    $"{canal.Name}: a separated instrument stays in {PlanFacts.FragmentFailure.Value:0.0} % where it is tried to take it out, and 4.9 % end in a perforation (Healthcare 2024;12:1390); left in, healing was not significantly worse (J Endod 2010;36:775–780)."));
                PassByHand("Pre-curve it and pass the fragment on its wider side.", at, "the fragment", request.Limits.WithdrawalMinutes);
                UltrasonicAt("Around the fragment, in sight of it, at low power.", at, "the fragment", request.Limits.WithdrawalMinutes);
                return;
            case Obstacle.Ledge:
                PassByHand("Pre-curve its last 2–3 mm and seek the canal past the ledge with short strokes.", at, "the ledge", request.Limits.LedgeMinutes);
                UltrasonicAt("Pre-curve it and smooth the ledge once a hand file has passed it.", at, "the ledge", request.Limits.LedgeMinutes);
                return;
            default:
                PassByHand("Pre-curve it and seek a way through with short strokes and much irrigant.", at, "the blockage", request.Limits.LedgeMinutes);
                return;
        }
    }

    private void PassByHand(string action, double? at, string what, double minutes)
    {
        if (tools.OfSort(InstrumentSort.HandFile, 10) is { } kind || (kind = tools.OfSort(InstrumentSort.HandFile)) is not null)
        {
            var stop = at is null ? (double?)null : 0;
            Add(RemovalPhase.Obstacle, kind, action, stop, $"Past {what} to the {length.EndInWords} by feel, no further. It needs a way that a small file finds without force.", attempts: true, minutes: minutes);
        }
    }

    private void UltrasonicAt(string action, double? at, string what, double minutes)
    {
        if (request.Filling == OldFilling.SilverPoint)
        {
            return;
        }

        if (tools.OfSort(InstrumentSort.UltrasonicFile, 25) is { } kind || (kind = tools.OfSort(InstrumentSort.UltrasonicFile)) is not null)
        {
            Add(RemovalPhase.Obstacle, kind, action, at, $"At {what}, no deeper. It needs a hand file past it first.", attempts: true, minutes: minutes);
        }
    }

    private void Add(
        RemovalPhase phase,
        InstrumentKind kind,
        string action,
        double? stop,
        string binding,
        SequenceStep? from = null,
        SpaceCut? cut = null,
        bool attempts = false,
        double? minutes = null)
    {
        var cautions = new List<string>();
        if (from is not null)
        {
            cautions.AddRange(SequenceCheck.Of(from, kind));
        }

        var own = cut is null ? null : new SpaceCut([.. cut.Levels.Where(level => IsOwn(level.FromEndMillimetres))]);
        var thinnest = own is null ? null : stops.ThinnestLeft(own, stop ?? 0);
        if (thinnest is { } left && left.LeftMillimetres < WallFacts.ThinWall.Value)
        {
            cautions.Add(string.Create(CultureInfo.InvariantCulture, $"Thin wall: {Math.Max(0, left.LeftMillimetres):0.00} mm left, {left.Wall.Side}, at {left.Wall.FromEnd.Value:0.0} mm from the end; keep away from that side."));
        }

        cautions.AddRange(StepCautions.Of(kind.Sort));
        var volumes = own?.Volumes();
        steps.Add(new RemovalStep(
            phase,
            kind.Name,
            kind.Code,
            canal.Name,
            stop is { } known && length.End is { } end ? Mm(end.Length.Value - known) : null,
            stop is { } place ? Mm(place) : null,
            from?.SpeedRpm,
            from?.TorqueNewtonCentimetres,
            binding,
            thinnest is { } thin ? Mm(Math.Max(0, thin.LeftMillimetres)) : null,
            own is null ? null : Mm(own.GreatestLossPerSideMillimetres),
            null,
            attempts ? request.Limits.Attempts : null,
            minutes,
            attempts ? ThenWhat : null,
            cautions)
        {
            Action = Split is null ? action : $"Below the split, in {canal.Name}: {char.ToLowerInvariant(action[0])}{action[1..]}",
            Reference = stop is null ? null : length.End?.From.Name,
            Use = tools.UseOf(kind, canal.Name),
            Cuts = own is null ? [] : [.. own.Levels.Select(level => new PlannedCut(Mm(level.FromEndMillimetres), Mm(level.OldWidthMillimetres), Mm(level.NewWidthMillimetres), WallLeftAt(own, level.FromEndMillimetres)))],
            Volumes = volumes is { } taken ? new PlannedVolumes(taken.FillingCubicMillimetres, taken.FillingCutCubicMillimetres, taken.DentineCutCubicMillimetres) : null,
        });
    }

    private Millimetres? WallLeftAt(SpaceCut cut, double fromEnd)
    {
        const double Near = 0.15;
        var walls = measures.Walls.Where(wall => Math.Abs(wall.FromEnd.Value - fromEnd) <= Near).ToList();
        return walls.Count == 0 ? null : Mm(Math.Max(0, walls.Min(wall => wall.Counted.Value) - (cut.LossPerSideMillimetresAt(fromEnd) ?? 0)));
    }

    private string ActionOf(InstrumentKind kind, SequenceStep step)
    {
        var action = kind.Sort switch
        {
            InstrumentSort.UltrasonicFile => "Break up and lift the filling out.",
            InstrumentSort.RetreatmentRotary => "Take the bulk out with light strokes against the walls.",
            InstrumentSort.AdaptiveCoreFile => "Scrape what is left off the walls with long strokes.",
            InstrumentSort.HedstromFile => "Pull the filling out with strokes against the walls.",
            InstrumentSort.HandFile => "Take the filling out by hand.",
            _ => "Take the filling out.",
        };
        var hard = request.Filling == OldFilling.HardPaste && kind.Sort.Rotates() ? " Hard paste: don't press; where it doesn't advance, ultrasonics in sight of the tip." : string.Empty;
        return step.Note is { Length: > 0 } note ? $"{action} {char.ToUpperInvariant(note[0])}{note[1..].TrimEnd('.')}.{hard}" : action + hard;
    }

    private static RemovalPhase PhaseOf(InstrumentKind kind) => kind.Sort switch
    {
        InstrumentSort.AdaptiveCoreFile => RemovalPhase.Walls,
        InstrumentSort.OrificeOpener or InstrumentSort.HeatedPlugger => RemovalPhase.Coronal,
        _ => RemovalPhase.Bulk,
    };

    private static Millimetres Mm(double millimetres) => new(millimetres);
}
