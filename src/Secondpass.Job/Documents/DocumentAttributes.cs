namespace Secondpass.Job.Documents;

/// <summary>A text that is one word of an enum, written in small letters with underscores.</summary>
/// <param name="words">The enum.</param>
[AttributeUsage(AttributeTargets.Property)]
public sealed class WordsAttribute(Type words) : Attribute
{
    /// <summary>The enum.</summary>
    public Type Words { get; } = words;
}

/// <summary>Rows of numbers, or one row: what each column holds, with its unit.</summary>
/// <param name="names">One name a column.</param>
[AttributeUsage(AttributeTargets.Property)]
public sealed class ColumnsAttribute(params string[] names) : Attribute
{
    /// <summary>One name a column.</summary>
    public IReadOnlyList<string> Names { get; } = names;
}
