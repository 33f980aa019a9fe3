using System.Globalization;
using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Instruments;
using Secondpass.Domain.Plans;
using Secondpass.Domain.Quantities;

namespace Secondpass.Removal.Planner;

/// <summary>Plans how the old filling of a tooth comes out: the clinic's own sequence, canal by canal, held against the limits.</summary>
/// <remarks>
/// By geometry only: bending, heat and wear are not computed. A limit never blocks silently: each step names the one that
/// decides and what going further would need. What wasn't measured stays unknown.
/// </remarks>
public static class RemovalPlanner
{
    /// <summary>Plans.</summary>
    /// <param name="request">What it is made from.</param>
    /// <returns>The plan; or a refusal: the input can't be (<see cref="WhyImpossible(PlanRequest)"/>), or there is nothing to remove.</returns>
    public static Answer<RemovalPlan> Plan(PlanRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        if (WhyImpossible(request) is { } impossible)
        {
            return impossible;
        }

        var tools = new Toolbox(request);
        var steps = new List<RemovalStep>();
        var assumptions = new List<string>();
        foreach (var canal in request.Canals)
        {
            if (WhyNoSteps(canal) is { } none)
            {
                assumptions.Add(none);
                continue;
            }

            var planned = new CanalSteps(request, tools, canal);
            planned.Plan();
            steps.AddRange(planned.Steps);
            assumptions.AddRange(planned.Assumptions);
        }

        if (steps.Count == 0)
        {
            return new Refusal(
                "nothing_to_remove",
                $"There is no step to plan. {string.Join(' ', assumptions.Concat(tools.Refusals.Select(refusal => refusal.Reason)))}",
                "Say which canals are filled and to be treated again, or choose another sequence.");
        }

        return new RemovalPlan(
            request.Sequence.Name,
            [.. TakeDownSteps(request), .. steps],
            [.. assumptions, .. OnTheWhole(request)],
            tools.Refusals);
    }

    /// <summary>Why a request can't be: an instrument that isn't known, a stop or a meeting beyond the canal. Null when it can.</summary>
    /// <param name="request">The request.</param>
    public static Refusal? WhyImpossible(PlanRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        if (request.Sequence.Steps.Count == 0)
        {
            return new Refusal("sequence_empty", $"The sequence “{request.Sequence.Name}” has no steps.", "Give it at least one instrument.");
        }

        foreach (var step in request.Sequence.Steps)
        {
            if (request.Kinds.All(kind => kind.Code != step.KindCode))
            {
                return new Refusal(
                    "kind_unknown",
                    $"“{step.KindCode}”, in the sequence “{request.Sequence.Name}”, is not a kind of instrument that is known here.",
                    $"Known: {string.Join(", ", request.Kinds.Select(kind => kind.Code))}.");
            }
        }

        return request.Canals.Select(canal => WhyImpossible(request, canal)).FirstOrDefault(wrong => wrong is not null);
    }

    private static Refusal? WhyImpossible(PlanRequest request, CanalRecord canal)
    {
        if (canal.Parent is { } parent && request.Canals.All(other => other.Name != parent))
        {
            return new Refusal("parent_unknown", $"{canal.Name} is said to leave “{parent}”, which is not a canal of this tooth.", "Name a canal of the list, or none.");
        }

        var length = CanalLength.Of(canal);
        var end = length.End?.Length.Value;
        if (request.Choices.GetValueOrDefault(canal.Name)?.NoDeeperThan is { } own && (own.Value <= 0 || own.Value > end))
        {
            return own.Value <= 0
                ? new Refusal("stop_not_a_depth", string.Create(CultureInfo.InvariantCulture, $"{own.Value:0.##} mm is not a depth at which an instrument stops in {canal.Name}."), "Give millimetres from the reference point, more than 0.")
                : Beyond("stop_beyond_canal", "The stop at", own.Value);
        }

        if (length.Holding.FirstOrDefault(reading => reading.To is LengthEnd.FileStop or LengthEnd.Meeting && reading.From == length.End?.From && reading.Length.Value > end) is { } deep)
        {
            return Beyond("reading_beyond_canal", $"The {CanalLength.InWords(deep.To)} at", deep.Length.Value);
        }

        var whole = end ?? request.Measures.GetValueOrDefault(canal.Name)?.PathLength?.Value;
        return canal.Meeting?.FromEnd is { } meeting && (meeting.Value < 0 || meeting.Value > whole)
            ? new Refusal(
                "meeting_beyond_canal",
                string.Create(CultureInfo.InvariantCulture, $"The meeting {meeting.Value:0.##} mm from the end of {canal.Name} does not lie in the canal{(whole is { } all ? string.Create(CultureInfo.InvariantCulture, $", which is {all:0.##} mm long") : string.Empty)}."),
                "Give the level in millimetres from the canal's end.")
            : null;

        Refusal Beyond(string code, string what, double depth) => new(
            code,
            string.Create(CultureInfo.InvariantCulture, $"{what} {depth:0.##} mm lies beyond the end of {canal.Name}, which is {end:0.##} mm from the {length.End!.From.Name} to the {CanalLength.InWords(length.End.To)}."),
            "Correct the depth, or read the length again: an instrument beyond the end does harm.",
            new Dictionary<string, double> { ["depth_mm"] = depth, ["length_mm"] = end ?? 0 });
    }

    private static string? WhyNoSteps(CanalRecord canal) => canal switch
    {
        { Intent: CanalIntent.LeaveAlone } => $"{canal.Name} is left alone{(canal.WhyLeftAlone is { } why ? $" ({why})" : string.Empty)}: its root is not treated again. That goes into consent and letter.",
        { Intent: CanalIntent.LookFor } or { Found: false } => $"{canal.Name} is expected and not found yet: look for it first. Searching is not counted in minutes.",
        { Filling: CanalFilling.Unfilled } => $"{canal.Name} is not filled: there is nothing to remove in it.",
        _ => null,
    };

    private static IEnumerable<RemovalStep> TakeDownSteps(PlanRequest request)
    {
        if (request.TakeDown.Crown is { } crown)
        {
            yield return Step($"Take off the {crown}, or go through it where it stays.", "Whether the tooth can be restored is judged again once caries and post are out.", null, null, null, []);
        }

        if (request.TakeDown.Core is { } core)
        {
            yield return Step($"Take out the {core} until the orifices are seen.", "The floor of the chamber: nothing is cut below it.", null, null, null, []);
        }

        var withPost = request.Canals.Where(canal => canal.Obstacles.Contains(Obstacle.Post) && canal.Intent == CanalIntent.Retreat).Select(canal => canal.Name).ToList();
        if (request.TakeDown.Post is { } post || withPost.Count > 0)
        {
            var minutes = new Estimate(PlanFacts.PostMinutes.Value, PlanFacts.PostMinutes.Range!.Value);
            yield return Step(
                $"Loosen and take out the {request.TakeDown.Post ?? "post"}.",
                "The post's own length: no trough deeper than it needs to come loose.",
                withPost.Count == 1 ? withPost[0] : null,
                minutes,
                minutes.Interval.High,
                StepCautions.Post);
        }

        RemovalStep Step(string action, string binding, string? branch, Estimate? minutes, double? atMost, IReadOnlyList<string> cautions) =>
            new(RemovalPhase.TakeDown, null, null, branch, null, null, null, null, binding, null, null, minutes, null, atMost, atMost is null ? null : "Stop and think again: leave the post and operate, or refer.", cautions) { Action = action };
    }

    private static IEnumerable<string> OnTheWhole(PlanRequest request)
    {
        if (request.Filling == OldFilling.Unknown)
        {
            yield return "What the canals were filled with is not known; gutta-percha is planned for.";
        }

        if (request.Unit is null && request.Sequence.Steps.Any(step => request.Kinds.First(kind => kind.Code == step.KindCode).Sort == InstrumentSort.UltrasonicFile))
        {
            yield return "No ultrasonic unit is entered, so whether its tips fit was not checked.";
        }

        yield return SolventInWords(request);
        yield return "Instruments are taken to run in the middle of the filling and sections to be round; nothing is said of bending, heat and wear. Figures of an adaptive core are those of its closed shape.";
        yield return string.Create(
            CultureInfo.InvariantCulture,
            $"Minutes stand only where a publication gives them. Removal with the shipped sequence is said to take {PlanFacts.RemovalMinutes.Range!.Value.Low:0}–{PlanFacts.RemovalMinutes.Range.Value.High:0} min and shaping {PlanFacts.ShapingMinutes.Value:0} min in the same visit: common practice, no source.");
        yield return StepCautions.Follow;
    }

    private static string SolventInWords(PlanRequest request)
    {
        if (request.ResinFollows)
        {
            return string.Create(
                CultureInfo.InvariantCulture,
                $"No solvent: resin is bonded afterwards, and bonds fell to {SolventFacts.BondAfterChloroform.Value} MPa after chloroform and {SolventFacts.BondAfterHalothane.Value} after halothane, from {SolventFacts.BondAfterWater.Value} after water (Erdemir et al., J Endod 2004;30:589–592).");
        }

        return Solvents.Find(request.Solvent.Code) is { } solvent
            ? $"Solvent as the clinic prefers: {solvent.Name}, only after the bulk is out, never where filling lies beyond the end{(request.Solvent.Note is { Length: > 0 } note ? $" ({note})" : string.Empty)}."
            : "No solvent: the bulk comes out first.";
    }
}
