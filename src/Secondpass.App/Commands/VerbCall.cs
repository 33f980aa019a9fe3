namespace Secondpass.App.Commands;

/// <summary>One call of a verb: what was given, and where the answer goes.</summary>
/// <param name="verb">The verb.</param>
/// <param name="words">The words given, in order.</param>
/// <param name="values">The options given, with their values; an option without a value has an empty one.</param>
/// <param name="console">Where the answer goes.</param>
internal sealed class VerbCall(Verb verb, IReadOnlyList<string> words, IReadOnlyDictionary<VerbOption, string> values, CommandConsole console)
{
    /// <summary>The verb.</summary>
    public Verb Verb => verb;

    /// <summary>Where the answer goes.</summary>
    public CommandConsole Console => console;

    /// <summary>Whether an option was given.</summary>
    public bool Has(VerbOption option) => values.ContainsKey(option);

    /// <summary>The value of an option, or null when it was not given.</summary>
    public string? Value(VerbOption option) => values.GetValueOrDefault(option);

    /// <summary>The value of an option that has to be given.</summary>
    public string Required(VerbOption option) => values[option];

    /// <summary>The word at a place, or null when fewer were given.</summary>
    public string? Word(int place) => place < words.Count ? words[place] : null;
}
