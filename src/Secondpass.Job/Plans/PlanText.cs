using System.Globalization;
using System.Text;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Plans;
using Secondpass.Exchange.Wording;

namespace Secondpass.Job.Plans;

/// <summary>A plan as text for a person at a terminal.</summary>
public static class PlanText
{
    /// <summary>The plan: step by step, then what was not taken, then what it rests on.</summary>
    /// <param name="tooth">The tooth; null when not said.</param>
    /// <param name="plan">The plan.</param>
    public static string Of(ToothNumber? tooth, RemovalPlan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        var text = new StringBuilder();
        text.Append(tooth is { } known ? $"Tooth {known}, {known.Words}" : "Tooth not given").Append(". Sequence: ").Append(plan.Name).Append('\n');
        for (var i = 0; i < plan.Steps.Count; i++)
        {
            var step = plan.Steps[i];
            text.Append('\n').Append(CultureInfo.InvariantCulture, $"{i + 1}. {step.Branch ?? "Tooth"}: {Head(step)}\n");
            Line(text, step.Action);
            Line(text, step.BindingLimit);
            if (Sizes(step) is { Length: > 0 } sizes)
            {
                Line(text, sizes);
            }

            if (Limits(step) is { Length: > 0 } limits)
            {
                Line(text, limits);
            }

            foreach (var caution in step.Cautions)
            {
                Line(text, "! " + caution);
            }
        }

        Block(text, "Not taken", plan.Refusals.Select(refusal => $"{refusal.Reason} {refusal.Remedy}"));
        Block(text, "It rests on", plan.Assumptions);
        return text.ToString();
    }

    /// <summary>Instrument, stop, speed and use of a step in one line.</summary>
    public static string Head(RemovalStep step)
    {
        ArgumentNullException.ThrowIfNull(step);
        string?[] parts =
        [
            step.Instrument ?? "take-down",
            Stop(step),
            step.SpeedRpm is { } rpm ? string.Create(CultureInfo.InvariantCulture, $"{rpm:0} rpm") : null,
            step.TorqueNewtonCentimetres is { } torque ? string.Create(CultureInfo.InvariantCulture, $"{torque:0.##} N·cm") : null,
            step.Use is { } use ? $"{use.CalledBy}, {use.InWords}" : null,
        ];
        return string.Join(", ", parts.Where(part => part is not null));
    }

    /// <summary>The stop in words; null where it is not known.</summary>
    public static string? Stop(RemovalStep step)
    {
        ArgumentNullException.ThrowIfNull(step);
        return (step.StopFromReference, step.StopFromEnd) switch
        {
            ({ } depth, { } shortOf) => string.Create(CultureInfo.InvariantCulture, $"stop at {depth.Value:0.0} mm, {shortOf.Value:0.0} mm short of the end"),
            (null, { } shortOf) => string.Create(CultureInfo.InvariantCulture, $"stop {shortOf.Value:0.0} mm short of the end"),
            _ => null,
        };
    }

    /// <summary>Wall left and dentine cut in words; empty for a step that isn't planned by what it cuts.</summary>
    public static string Sizes(RemovalStep step)
    {
        ArgumentNullException.ThrowIfNull(step);
        if (step.StopFromEnd is null || step.Phase is not (RemovalPhase.Bulk or RemovalPhase.Walls) || step.AttemptsAtMost is not null)
        {
            return string.Empty;
        }

        var wall = step.WallLeft is { } left ? string.Create(CultureInfo.InvariantCulture, $"Wall left {left.Value:0.00} mm") : "Wall left: not measured";
        var loss = step.LossPerSide is { } cut ? string.Create(CultureInfo.InvariantCulture, $"dentine cut {cut.Value:0.00} mm a side at most") : "dentine cut: not measured";
        var filling = step.Volumes is { } volumes ? string.Create(CultureInfo.InvariantCulture, $"; filling cut {volumes.FillingCutCubicMillimetres:0.0} of {volumes.FillingBeforeCubicMillimetres:0.0} mm³") : string.Empty;
        return $"{wall}; {loss}{filling}.";
    }

    /// <summary>Minutes and attempts in words; empty for none.</summary>
    public static string Limits(RemovalStep step) => PlanWords.Limits(step);

    private static void Line(StringBuilder text, string line) => text.Append("   ").Append(line).Append('\n');

    private static void Block(StringBuilder text, string heading, IEnumerable<string> lines)
    {
        var all = lines.ToList();
        if (all.Count == 0)
        {
            return;
        }

        text.Append('\n').Append(heading).Append('\n');
        foreach (var line in all)
        {
            text.Append("- ").Append(line).Append('\n');
        }
    }
}
