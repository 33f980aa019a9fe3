namespace Secondpass.App.Commands;

/// <summary>Everything there is to know about a verb, once: parser, help, guide and schemas come from it.</summary>
/// <param name="Name">The word on the command line.</param>
/// <param name="Summary">What it does, in a few words without a full stop.</param>
/// <param name="Details">What a user should know, in sentences.</param>
/// <param name="Words">Words that follow the verb, in order.</param>
/// <param name="Options">Its options.</param>
/// <param name="Document">The record that it answers with as JSON; null when it answers none.</param>
/// <param name="Examples">Calls that work.</param>
/// <param name="Run">Carries it out.</param>
internal sealed record Verb(
    string Name,
    string Summary,
    string Details,
    IReadOnlyList<VerbWord> Words,
    IReadOnlyList<VerbOption> Options,
    Type? Document,
    IReadOnlyList<VerbExample> Examples,
    Func<VerbCall, ExitCode> Run)
{
    /// <summary>How it is called, in one line.</summary>
    public string Usage => string.Join(
        ' ',
        [
            $"secondpass {Name}",
            .. Words.Select(word => word.IsRequired ? word.Name : $"[{word.Name}]"),
            .. Options.Select(option => option.IsRequired ? option.Usage : $"[{option.Usage}]"),
        ]);
}

/// <summary>A word that follows a verb by its place.</summary>
/// <param name="Name">Its name in capitals.</param>
/// <param name="Means">What it is, in a sentence.</param>
/// <param name="IsRequired">Whether it has to be given.</param>
internal sealed record VerbWord(string Name, string Means, bool IsRequired);

/// <summary>An option of a verb.</summary>
/// <param name="Name">Its name with two dashes.</param>
/// <param name="Value">The name of its value in capitals; null for an option without one.</param>
/// <param name="Means">What it does, in a sentence.</param>
/// <param name="IsRequired">Whether it has to be given.</param>
internal sealed record VerbOption(string Name, string? Value, string Means, bool IsRequired = false)
{
    /// <summary>The option with its value, as it is written.</summary>
    public string Usage => Value is null ? Name : $"{Name} {Value}";
}

/// <summary>A call that works, for the guide; a test runs it.</summary>
/// <param name="Call">The words after the program's name.</param>
/// <param name="Shows">What it shows, in a sentence.</param>
internal sealed record VerbExample(string Call, string Shows);
