namespace Secondpass.Domain;

/// <summary>A refusal met where only a value can be returned, such as a list when the store can't be reached: caught at the edge of the program.</summary>
/// <param name="refusal">The refusal.</param>
/// <param name="inner">What the machine said.</param>
public sealed class RefusedException(Refusal refusal, Exception inner) : Exception(refusal.Reason, inner)
{
    /// <summary>The refusal.</summary>
    public Refusal Refusal { get; } = refusal;
}
