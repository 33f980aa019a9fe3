using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Films;
using Secondpass.Domain.Plans;
using Secondpass.Domain.Quantities;
using Secondpass.Job.Documents;
using Secondpass.Removal.Planner;

namespace Secondpass.Job.Plans;

/// <summary>The plan: what is known of the canals, the clinic's sequence and its instruments become steps with stops.</summary>
public static class PlanRemoval
{
    /// <summary>Gathers what a plan is made from.</summary>
    /// <param name="tooth">The tooth; null when not said.</param>
    /// <param name="said">What was said of the case and the clinic.</param>
    /// <param name="measured">A measured film; null for none. What was typed beats what it shows.</param>
    /// <param name="sequence">The name of a sequence; null for the first of the clinic's.</param>
    /// <returns>The inputs; or a refusal of something that can't be, quoting it: an unknown sequence or instrument, a stop beyond the canal.</returns>
    public static Answer<PlanInputs> Prepare(ToothNumber? tooth, CasePlanning said, MeasuredFilm? measured, string? sequence)
    {
        ArgumentNullException.ThrowIfNull(said);
        if (!Choose(said.Clinic.Sequences, sequence).TryGet(out var chosen, out var unknown))
        {
            return unknown;
        }

        var branches = measured?.Trunks.SelectMany(trunk => trunk.SelfAndBelow()).ToDictionary(branch => branch.Name) ?? [];
        var onFilm = measured is null ? new Dictionary<string, CanalMeasures>() : FilmSizes.Of(measured.Trunks, measured.Scale, tooth, said.Clinic.Limits);
        var request = new PlanRequest(
            tooth,
            said.TakeDown,
            said.Filling,
            [.. said.Canals.Select(canal => branches.TryGetValue(canal.Name, out var branch) ? AsOnFilm(canal, branch, measured!.Scale) : canal)],
            said.Canals.ToDictionary(canal => canal.Name, canal => Together(said.Measures.GetValueOrDefault(canal.Name), onFilm.GetValueOrDefault(canal.Name))),
            said.Choices,
            chosen,
            said.Clinic.Kinds,
            said.Clinic.Items,
            said.Clinic.Unit,
            said.Clinic.Solvent,
            said.ResinFollows,
            said.Clinic.Limits)
        {
            UseCount = said.Clinic.UseCount,
        };
        return RemovalPlanner.WhyImpossible(request) is { } impossible
            ? impossible
            : new PlanInputs(request, measured?.Document.Notices ?? []);
    }

    /// <summary>Plans.</summary>
    /// <param name="inputs">What it is made from.</param>
    /// <returns>The plan; or a refusal: nothing to remove.</returns>
    public static Answer<PlannedRemoval> Plan(PlanInputs inputs)
    {
        ArgumentNullException.ThrowIfNull(inputs);
        return RemovalPlanner.Plan(inputs.Request).TryGet(out var plan, out var refusal)
            ? new PlannedRemoval(plan, PlanDocument.From(inputs.Request.Tooth, plan, inputs.Notices))
            : refusal;
    }

    private static Answer<Sequence> Choose(IReadOnlyList<Sequence> sequences, string? name)
    {
        var known = string.Join(", ", sequences.Select(sequence => $"“{sequence.Name}”"));
        if (sequences.Count == 0)
        {
            return new Refusal("no_sequence", "There is no sequence to plan by.", "Enter one under Instruments.");
        }

        if (name is null)
        {
            return sequences[0];
        }

        if (sequences.FirstOrDefault(sequence => string.Equals(sequence.Name, name.Trim(), StringComparison.OrdinalIgnoreCase)) is { } found)
        {
            return found;
        }

        var nearest = NearestWord.Of(name, sequences.Select(sequence => sequence.Name));
        return new Refusal(
            "sequence_unknown",
            $"{Quoted.Text(name)} is not a sequence that is known here.",
            $"{(nearest is null ? string.Empty : $"Did you mean “{nearest}”? ")}Known: {known}.");
    }

    private static CanalRecord AsOnFilm(CanalRecord canal, TracedBranch branch, Calibration? scale)
    {
        var end = canal.FillingEndToCanalEnd ?? FillingEnd(branch);
        return canal with
        {
            FillingEndToCanalEnd = end,
            Filling = canal.Filling == CanalFilling.NotJudged && end is { } known ? FillingLength.Classify(known) : canal.Filling,
            Meeting = canal.Meeting is { FromEnd: null } meeting && scale is not null ? meeting with { FromEnd = FilmSizes.LeavesAt(branch, scale) } : canal.Meeting,
        };
    }

    // A little beyond the end, within what the film can tell, is not beyond it.
    private static Millimetres? FillingEnd(TracedBranch branch) => branch.Measures.FillingEndToCanalEnd switch
    {
        null => null,
        { Value: < 0, Interval.High: >= 0 } => new Millimetres(0),
        { } read => new Millimetres(read.Value),
    };

    private static CanalMeasures Together(CanalMeasures? typed, CanalMeasures? onFilm) => (typed, onFilm) switch
    {
        (null, null) => CanalMeasures.None,
        ({ } only, null) => only,
        (null, { } only) => only,
        ({ } said, { } seen) => seen with
        {
            Widths = said.Widths.Count > 0 ? said.Widths : seen.Widths,
            Walls = [.. said.Walls, .. seen.Walls],
        },
    };
}

/// <summary>What a plan is made from, checked.</summary>
public sealed class PlanInputs
{
    internal PlanInputs(PlanRequest request, IReadOnlyList<string> notices)
    {
        Request = request;
        Notices = notices;
    }

    internal PlanRequest Request { get; }

    internal IReadOnlyList<string> Notices { get; }
}

/// <summary>A plan made.</summary>
/// <param name="Plan">The plan.</param>
/// <param name="Document">The same as the command writes it.</param>
public sealed record PlannedRemoval(RemovalPlan Plan, PlanDocument Document);
