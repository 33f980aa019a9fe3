using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Plans;
using Secondpass.Domain.Quantities;

namespace Secondpass.Job.Documents;

/// <summary>What plan answers.</summary>
/// <param name="Schema">Always 1.</param>
/// <param name="Tooth">The tooth.</param>
/// <param name="Sequence">The sequence.</param>
/// <param name="Steps">The steps.</param>
/// <param name="Assumptions">What it rests on.</param>
/// <param name="Refusals">What was not taken.</param>
/// <param name="Notices">What is to be said about the film.</param>
[Description("What plan answers: steps in order, what they rest on, and what was not taken and why.")]
public sealed record PlanDocument(
    [property: Description("Always 1."), AllowedValues(1)] int Schema,
    [property: Description("The tooth after ISO 3950; null: not said.")] string? Tooth,
    [property: Description("The name of the sequence.")] string Sequence,
    [property: Description("The steps in order.")] IReadOnlyList<PlanStepDocument> Steps,
    [property: Description("What the plan rests on, in sentences.")] IReadOnlyList<string> Assumptions,
    [property: Description("Steps and instruments that were not taken, and why.")] IReadOnlyList<RefusedDocument> Refusals,
    [property: Description("What is to be said about the film, in sentences.")] IReadOnlyList<string> Notices)
{
    /// <summary>The document of a plan.</summary>
    /// <param name="tooth">The tooth.</param>
    /// <param name="plan">The plan.</param>
    /// <param name="notices">What is to be said about the film.</param>
    public static PlanDocument From(ToothNumber? tooth, RemovalPlan plan, IReadOnlyList<string> notices)
    {
        ArgumentNullException.ThrowIfNull(plan);
        return new PlanDocument(
            1,
            tooth?.ToString(),
            plan.Name,
            [.. plan.Steps.Select(PlanStepDocument.From)],
            plan.Assumptions,
            [.. plan.Refusals.Select(refusal => new RefusedDocument(refusal.Code, refusal.Reason, refusal.Remedy, refusal.Evidence))],
            notices);
    }
}

/// <summary>One step.</summary>
/// <param name="Phase">The phase.</param>
/// <param name="Action">What is done.</param>
/// <param name="Instrument">The instrument.</param>
/// <param name="Kind">Its kind.</param>
/// <param name="Item">The item in stock.</param>
/// <param name="Use">Which use.</param>
/// <param name="Branch">The branch.</param>
/// <param name="StopFromReferenceMm">Depth of the stop.</param>
/// <param name="StopFromEndMm">Short of the end.</param>
/// <param name="Rpm">Speed.</param>
/// <param name="TorqueNcm">Torque.</param>
/// <param name="BindingLimit">The limit.</param>
/// <param name="WallLeftMm">Wall left.</param>
/// <param name="LossPerSideMm">Loss per side.</param>
/// <param name="FillingCutMm3">Filling taken.</param>
/// <param name="DentineCutMm3">Dentine taken.</param>
/// <param name="Minutes">Minutes.</param>
/// <param name="AttemptsAtMost">Attempts.</param>
/// <param name="MinutesAtMost">Minutes at most.</param>
/// <param name="ThenWhat">Then what.</param>
/// <param name="Cautions">Cautions.</param>
[Description("One step of a plan.")]
public sealed record PlanStepDocument(
    [property: Description("take_down, coronal, bulk, obstacle or walls."), Words(typeof(RemovalPhase))] string Phase,
    [property: Description("What is done, in a sentence.")] string Action,
    [property: Description("The instrument in words; null for a step without one.")] string? Instrument,
    [property: Description("The code of its kind; null for a step without one.")] string? Kind,
    [property: Description("Which instrument in stock; null when none is kept there or none has uses left.")] string? Item,
    [property: Description("Which use of it, such as \"use 3 of 5\"; null as item.")] string? Use,
    [property: Description("The canal branch; null for the whole tooth.")] string? Branch,
    [property: Description("Depth of the stop from the reference point, in mm; null where no length is noted.")] double? StopFromReferenceMm,
    [property: Description("The stop short of the canal's end, in mm; null where it is not known.")] double? StopFromEndMm,
    [property: Description("Speed in rpm; null where it doesn't rotate or the sequence doesn't say.")] double? Rpm,
    [property: Description("Torque limit in N·cm; null where it doesn't rotate or the sequence doesn't say.")] double? TorqueNcm,
    [property: Description("The one limit that decides the stop, and what going further would need.")] string BindingLimit,
    [property: Description("Wall of dentine left where it is thinnest, in mm; null where no wall was measured.")] double? WallLeftMm,
    [property: Description("Dentine cut on each side where that is most, in mm, against the canal as measured; null where its width was not.")] double? LossPerSideMm,
    [property: Description("Filling that it takes, in mm³, sections as circles; null as loss_per_side_mm.")] double? FillingCutMm3,
    [property: Description("Dentine that it takes, in mm³, sections as circles; null as loss_per_side_mm.")] double? DentineCutMm3,
    [property: Description("Minutes with their 95 % interval; null where no publication gives them.")] MinutesDocument? Minutes,
    [property: Description("Attempts set beforehand; null for none.")] int? AttemptsAtMost,
    [property: Description("Minutes set beforehand; null for none.")] double? MinutesAtMost,
    [property: Description("What follows when it doesn't work; null for none.")] string? ThenWhat,
    [property: Description("Cautions beside the step.")] IReadOnlyList<string> Cautions)
{
    /// <summary>The entry of one step.</summary>
    public static PlanStepDocument From(RemovalStep step)
    {
        ArgumentNullException.ThrowIfNull(step);
        return new PlanStepDocument(
            EnumWords.Of(step.Phase),
            step.Action,
            step.Instrument,
            step.KindCode,
            step.Use?.ItemId,
            step.Use?.InWords,
            step.Branch,
            Mm(step.StopFromReference),
            Mm(step.StopFromEnd),
            step.SpeedRpm,
            step.TorqueNewtonCentimetres,
            step.BindingLimit,
            Mm(step.WallLeft),
            Mm(step.LossPerSide),
            step.Volumes is { } volumes ? Rounded.SquareMillimetres(volumes.FillingCutCubicMillimetres) : null,
            step.Volumes is { } taken ? Rounded.SquareMillimetres(taken.DentineCutCubicMillimetres) : null,
            step.Minutes is { } minutes ? new MinutesDocument(minutes.Value, minutes.Interval.Low, minutes.Interval.High) : null,
            step.AttemptsAtMost,
            step.MinutesAtMost,
            step.ThenWhat,
            step.Cautions);
    }

    private static double? Mm(Millimetres? length) => length is { } given ? Rounded.Millimetres(given.Value) : null;
}

/// <summary>Minutes with an interval.</summary>
/// <param name="Mean">Mean.</param>
/// <param name="Lo">Low end.</param>
/// <param name="Hi">High end.</param>
[Description("Minutes of one step.")]
public sealed record MinutesDocument(
    [property: Description("Mean.")] double Mean,
    [property: Description("Low end of the 95 % interval.")] double Lo,
    [property: Description("High end.")] double Hi);
