using System.CommandLine;
using System.Globalization;
using Secondpass.Domain;
using Secondpass.Job.Documents;

namespace Secondpass.App.Commands;

/// <summary>Takes a call apart by the definition of its verb.</summary>
internal static class CommandParser
{
    /// <summary>Takes a call apart.</summary>
    /// <param name="verb">The verb.</param>
    /// <param name="args">The words after it.</param>
    /// <param name="console">Where the answer goes.</param>
    /// <returns>The call; or what is wrong with it, quoting the word and naming the nearest that exists.</returns>
    public static Answer<VerbCall> Parse(Verb verb, IReadOnlyList<string> args, CommandConsole console)
    {
        // Nothing of a file name may be taken for anything else: no bundled letters, no files of words.
        var configuration = new ParserConfiguration { EnablePosixBundling = false, ResponseFileTokenReplacer = null };
        var command = new Command(verb.Name) { TreatUnmatchedTokensAsErrors = false };
        var words = new Argument<string[]>("words") { Arity = new ArgumentArity(0, verb.Words.Count) };
        if (verb.Words.Count > 0)
        {
            command.Add(words);
        }

        var options = verb.Options.ToDictionary(option => option, Symbol);
        foreach (var option in options.Values)
        {
            command.Add(option);
        }

        var parsed = command.Parse(args, configuration);
        if (parsed.UnmatchedTokens is [var unknown, ..])
        {
            return Unknown(verb, unknown);
        }

        var values = new Dictionary<VerbOption, string>();
        foreach (var (option, symbol) in options)
        {
            if (parsed.GetResult(symbol) is not { Implicit: false } found)
            {
                continue;
            }

            if (found.IdentifierTokenCount > 1)
            {
                return new Refusal("option_twice", $"{option.Name} is given {found.IdentifierTokenCount.ToString(CultureInfo.InvariantCulture)} times.", "Give it once.");
            }

            if (option.Value is null && found.Tokens.Count > 0)
            {
                return new Refusal("value_given", $"{option.Name} takes no value; {Quoted.Text(found.Tokens[0].Value)} was given.", $"Write {option.Name} alone, or leave it out.");
            }

            if (option.Value is not null && (found.Tokens.Count == 0 || found.Tokens[0].Value.Length == 0))
            {
                return new Refusal("value_missing", $"{option.Name} needs a value.", $"Write {option.Usage}: {option.Means}");
            }

            values[option] = option.Value is null ? string.Empty : found.Tokens[0].Value;
        }

        // Taken as tokens: a list that holds one word at most is not parsed into one.
        string[] given = [.. parsed.GetResult(words)?.Tokens.Select(token => token.Value) ?? []];
        if (verb.Words.Skip(given.Length).FirstOrDefault(word => word.IsRequired) is { } missingWord)
        {
            return new Refusal("word_missing", $"{missingWord.Name} is missing.", $"Write {verb.Usage}. {missingWord.Name}: {missingWord.Means}");
        }

        if (verb.Options.FirstOrDefault(option => option.IsRequired && !values.ContainsKey(option)) is { } missing)
        {
            return new Refusal("option_missing", $"{missing.Name} is missing.", $"Write {verb.Usage}. {missing.Usage}: {missing.Means}");
        }

        return new VerbCall(verb, given, values, console);
    }

    private static Option Symbol(VerbOption option) => option.Value is null
        ? new Option<bool>(option.Name) { Arity = new ArgumentArity(0, 1) }
        : new Option<string>(option.Name) { Arity = new ArgumentArity(0, 1) };

    private static Refusal Unknown(Verb verb, string word)
    {
        if (!word.StartsWith('-'))
        {
            return new Refusal("word_not_expected", $"{Quoted.Text(word)} is not expected here.", $"Write {verb.Usage}.");
        }

        var name = word.Split('=')[0];
        var nearest = NearestWord.Of(name, verb.Options.Select(option => option.Name));
        return new Refusal(
            "option_unknown",
            $"{Quoted.Text(name)} is not an option of {verb.Name}.",
            nearest is null
                ? verb.Options.Count == 0 ? $"{verb.Name} takes no options." : $"Its options: {string.Join(", ", verb.Options.Select(option => option.Name))}."
                : $"Did you mean {nearest}?");
    }
}
