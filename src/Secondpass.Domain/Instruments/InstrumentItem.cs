using System.Globalization;

namespace Secondpass.Domain.Instruments;

/// <summary>One instrument in the hand, or its position in a kit, with its history.</summary>
/// <param name="Id">Identity made by the store.</param>
/// <param name="KindCode">Its kind.</param>
/// <param name="Position">Where it stands, such as "kit A, 3"; null when loose.</param>
/// <param name="Uses">Uses so far.</param>
/// <param name="Retired">Whether it was taken out of use.</param>
public sealed record InstrumentItem(string Id, string KindCode, string? Position, int Uses, bool Retired)
{
    /// <summary>How it is called: its position, or its identity when it is loose.</summary>
    public string CalledBy => Position ?? $"loose {Id}";

    /// <summary>Whether it may be used once more.</summary>
    /// <param name="kind">Its kind; without a permitted number of uses there is no end.</param>
    public bool HasLifeLeft(InstrumentKind kind)
    {
        ArgumentNullException.ThrowIfNull(kind);
        return !Retired && (kind.UsesPermitted is not { } permitted || Uses < permitted);
    }

    /// <summary>The next use, such as "use 3 of 5"; beyond the permitted number it asks, and doesn't forbid.</summary>
    /// <param name="kind">Its kind.</param>
    public string NextUse(InstrumentKind kind)
    {
        ArgumentNullException.ThrowIfNull(kind);
        return kind.UsesPermitted is not { } permitted
            ? string.Create(CultureInfo.InvariantCulture, $"use {Uses + 1}")
            : string.Create(CultureInfo.InvariantCulture, $"use {Uses + 1} of {permitted}");
    }

    /// <summary>What is asked after it was used more often than permitted; null while it was not.</summary>
    /// <param name="kind">Its kind.</param>
    public string? AskAfterwards(InstrumentKind kind)
    {
        ArgumentNullException.ThrowIfNull(kind);
        return kind.UsesPermitted is { } permitted && Uses > permitted
            ? string.Create(CultureInfo.InvariantCulture, $"{kind.Name}, {CalledBy}: {Uses} uses noted, {permitted} permitted. Was it replaced, or is it used up?")
            : null;
    }
}
