namespace Secondpass.Domain.Cases;

/// <summary>Something that was noted about a case. Appended, never changed: a correction is another one.</summary>
/// <remarks>
/// A case is what its events say in order (<see cref="DentalCase"/>). Who noted it and when belongs to the store. Each kind is
/// stored with a version of its own; an older one is translated when it is read.
/// </remarks>
public abstract record CaseEvent;

/// <summary>Identifies a case: 32 hexadecimal digits, made by the store.</summary>
/// <param name="Value">The digits, lower case.</param>
public readonly record struct CaseId(string Value)
{
    /// <inheritdoc/>
    public override string ToString() => Value;
}
