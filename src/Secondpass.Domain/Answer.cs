using System.Diagnostics.CodeAnalysis;

namespace Secondpass.Domain;

/// <summary>Either a value or the refusal that explains why there is none.</summary>
/// <typeparam name="T">The type of the value.</typeparam>
/// <remarks>Made by conversion: <c>return path;</c> or <c>return new Refusal(…);</c>.</remarks>
public sealed class Answer<T>
    where T : notnull
{
    private readonly T? value;
    private readonly Refusal? refusal;

    private Answer(T value) => this.value = value;

    private Answer(Refusal refusal) => this.refusal = refusal;

    /// <summary>Whether there is a value.</summary>
    public bool IsGiven => refusal is null;

    /// <summary>The value.</summary>
    /// <exception cref="InvalidOperationException">There is a refusal instead.</exception>
    public T Value => refusal is null
        ? value!
        : throw new InvalidOperationException("There is no value: " + refusal.Reason);

    /// <summary>The refusal.</summary>
    /// <exception cref="InvalidOperationException">There is a value.</exception>
    public Refusal Refusal => refusal ?? throw new InvalidOperationException("There is a value, not a refusal.");

    /// <summary>Takes the answer apart.</summary>
    /// <param name="given">The value, when the method returns true.</param>
    /// <param name="refused">The refusal, when it returns false.</param>
    public bool TryGet([NotNullWhen(true)] out T? given, [NotNullWhen(false)] out Refusal? refused)
    {
        given = value;
        refused = refusal;
        return refusal is null;
    }

    /// <summary>An answer that holds a value.</summary>
    public static implicit operator Answer<T>(T value) => new(value);

    /// <summary>An answer that holds a refusal.</summary>
    public static implicit operator Answer<T>(Refusal refusal) => new(refusal);
}
