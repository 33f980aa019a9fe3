using System.Globalization;
using Secondpass.Domain.Instruments;

namespace Secondpass.Domain.Plans;

/// <summary>Checks a sequence against each instrument's own maker's ranges and the clinic's ultrasonic unit. It says; it never forbids.</summary>
public static class SequenceCheck
{
    /// <summary>What is to be said of one step.</summary>
    /// <param name="step">The step.</param>
    /// <param name="kind">Its kind.</param>
    /// <returns>Sentences; none when all is within the ranges.</returns>
    public static IReadOnlyList<string> Of(SequenceStep step, InstrumentKind kind)
    {
        ArgumentNullException.ThrowIfNull(step);
        ArgumentNullException.ThrowIfNull(kind);
        var said = new List<string>();
        if (step.SpeedRpm is { } speed)
        {
            if (kind.Speed is not { } range)
            {
                if (kind.Sort.Rotates())
                {
                    said.Add(string.Create(CultureInfo.InvariantCulture, $"{speed:0} rpm: the maker's range of {kind.Name} is not entered."));
                }
                else
                {
                    said.Add(string.Create(CultureInfo.InvariantCulture, $"{speed:0} rpm: {kind.Name} doesn't rotate."));
                }
            }
            else if (speed > range.HighRpm)
            {
                said.Add(string.Create(CultureInfo.InvariantCulture, $"{speed:0} rpm is outside the maker's {range.LowRpm:0}–{range.HighRpm:0} rpm for {kind.Name}, by {speed - range.HighRpm:0} rpm above."));
            }
            else if (speed < range.LowRpm)
            {
                said.Add(string.Create(CultureInfo.InvariantCulture, $"{speed:0} rpm is outside the maker's {range.LowRpm:0}–{range.HighRpm:0} rpm for {kind.Name}, by {range.LowRpm - speed:0} rpm below."));
            }
        }

        if (step.TorqueNewtonCentimetres is { } torque && kind.TorqueNewtonCentimetres is { } limit && torque > limit)
        {
            said.Add(string.Create(CultureInfo.InvariantCulture, $"{torque:0.##} N·cm is above the maker's {limit:0.##} N·cm for {kind.Name}, by {torque - limit:0.##} N·cm."));
        }

        return said;
    }

    /// <summary>Why a tip must not be proposed for the clinic's unit; null when it may.</summary>
    /// <param name="kind">The kind.</param>
    /// <param name="unit">The unit; null when none was entered, which forbids nothing.</param>
    public static Refusal? WhyItDoesNotFit(InstrumentKind kind, UltrasonicUnit? unit)
    {
        ArgumentNullException.ThrowIfNull(kind);
        return unit?.Fits(kind) == false
            ? new Refusal(
                "tip_does_not_fit",
                $"{kind.Name} needs “{kind.Fitting}”; ultrasonic unit {unit.Name} takes {unit.Takes}. It is left out.",
                $"Order one that fits: thread {unit.Thread ?? "none"}, chuck {unit.Chuck ?? "none"}. Or correct the unit or the kind under Instruments.")
            : null;
    }
}
