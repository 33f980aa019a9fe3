namespace Secondpass.Domain.Instruments;

/// <summary>The clinic's ultrasonic unit: a tip must fit its thread or chuck.</summary>
/// <param name="Name">How the clinic calls it.</param>
/// <param name="Thread">The thread of its handpiece; null when it takes a chuck only.</param>
/// <param name="Chuck">The chuck for files; null when it has none.</param>
public sealed record UltrasonicUnit(string Name, string? Thread, string? Chuck)
{
    /// <summary>Whether an ultrasonic instrument fits: what it needs is the unit's thread or its chuck, in the same words.</summary>
    /// <param name="kind">The kind; one of another sort fits anything.</param>
    /// <returns>Whether it fits; null where the kind doesn't say what it needs.</returns>
    public bool? Fits(InstrumentKind kind)
    {
        ArgumentNullException.ThrowIfNull(kind);
        if (kind.Sort != InstrumentSort.UltrasonicFile)
        {
            return true;
        }

        return kind.Fitting is { } needed ? Same(needed, Thread) || Same(needed, Chuck) : null;
    }

    /// <summary>What the unit takes, in words.</summary>
    public string Takes => (Thread, Chuck) switch
    {
        ({ } thread, { } chuck) => $"thread {thread}, chuck {chuck}",
        ({ } thread, null) => $"thread {thread}, no chuck",
        (null, { } chuck) => $"chuck {chuck}, no thread",
        _ => "neither thread nor chuck entered",
    };

    /// <summary>The line to order an instrument by: for an ultrasonic one it names unit, thread and chuck.</summary>
    /// <param name="kind">The kind.</param>
    /// <param name="unit">The clinic's unit; null when none was entered.</param>
    public static string OrderLine(InstrumentKind kind, UltrasonicUnit? unit)
    {
        ArgumentNullException.ThrowIfNull(kind);
        if (kind.Sort != InstrumentSort.UltrasonicFile)
        {
            return kind.Name;
        }

        var needs = kind.Fitting is { } fitting ? $", fits {fitting}" : string.Empty;
        return unit is null
            ? $"{kind.Name}{needs}; unit, thread and chuck are not entered yet: check them before ordering"
            : $"{kind.Name}{needs}; for ultrasonic unit {unit.Name}: {unit.Takes}";
    }

    private static bool Same(string needed, string? offered) =>
        offered is not null && string.Equals(Plain(needed), Plain(offered), StringComparison.OrdinalIgnoreCase);

    // "M3×0.6", "M3 x 0,6" and "M3 × 0.6" are the same thread.
    private static string Plain(string text) => string.Concat(text.Where(letter => !char.IsWhiteSpace(letter))).Replace('×', 'x').Replace(',', '.');
}
