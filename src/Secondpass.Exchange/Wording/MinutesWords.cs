using System.Globalization;
using Secondpass.Domain.Chairside;

namespace Secondpass.Exchange.Wording;

/// <summary>Says in words how long something took, alike on the page and in letters.</summary>
public static class MinutesWords
{
    /// <summary>What is said where a mark is missing.</summary>
    public const string NotMarked = "not marked";

    /// <summary>Minutes as whole minutes; more than nothing and less than half a minute is not rounded to nothing.</summary>
    /// <param name="minutes">Minutes, not negative.</param>
    /// <returns>Such as "6", "under 1", "0".</returns>
    public static string Whole(double minutes)
    {
        var rounded = Math.Round(minutes, MidpointRounding.AwayFromZero);
        return rounded < 1 && minutes > 0 ? "under 1" : rounded.ToString("0", CultureInfo.InvariantCulture);
    }

    /// <summary>A phase for a table: hands-on, and in brackets by the clock.</summary>
    /// <param name="phase">The phase.</param>
    /// <returns>Such as "6 (8)", "– (8)", "90" for the time in the chair, "not marked".</returns>
    public static string Cell(PhaseMinutes phase)
    {
        ArgumentNullException.ThrowIfNull(phase);
        if (phase.ElapsedMinutes is not { } elapsed)
        {
            return NotMarked;
        }

        return phase.Phase == VisitPhase.Chair
            ? Whole(elapsed)
            : $"{(phase.HandsOnMinutes is { } handsOn ? Whole(handsOn) : "–")} ({Whole(elapsed)})";
    }

    /// <summary>A phase in a sentence.</summary>
    /// <param name="phase">The phase; its time by the clock is known.</param>
    /// <returns>Such as "6 min hands-on (8 min by the clock)", "6 min, hands-on throughout", "8 min by the clock".</returns>
    public static string Sentence(PhaseMinutes phase)
    {
        ArgumentNullException.ThrowIfNull(phase);
        var elapsed = $"{Whole(phase.ElapsedMinutes ?? throw new ArgumentException("The time is not known.", nameof(phase)))} min by the clock";
        return phase.HandsOnMinutes switch
        {
            null => elapsed,
            { } handsOn when handsOn == phase.ElapsedMinutes => $"{Whole(handsOn)} min, hands-on throughout",
            { } handsOn => $"{Whole(handsOn)} min hands-on ({elapsed})",
        };
    }

    /// <summary>The name of a phase.</summary>
    /// <param name="phase">The phase.</param>
    public static string Name(VisitPhase phase) => phase switch
    {
        VisitPhase.Access => "Access and disassembly",
        VisitPhase.ToLength => "Filling to length",
        VisitPhase.Removal => "Removal complete",
        VisitPhase.Shaping => "Shaping",
        VisitPhase.Treatment => "Together",
        VisitPhase.Chair => "In the chair",
        _ => throw new ArgumentOutOfRangeException(nameof(phase), phase, "No such phase."),
    };
}
