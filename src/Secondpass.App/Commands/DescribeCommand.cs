using System.Globalization;
using Secondpass.Domain;
using Secondpass.Job.Documents;

namespace Secondpass.App.Commands;

/// <summary>Prints the documents that are generated from the program itself, for docs/.</summary>
internal static class DescribeCommand
{
    private static readonly string[] Topics = ["evidence", "guide", "schema"];

    /// <summary>The verb.</summary>
    public static Verb Verb { get; } = new(
        "describe",
        "the constants with their sources, the JSON schemas, and the command-line guide",
        "Prints a document that is made from the program itself. The files in docs/ are these, word for word; a test compares them.",
        [
            new VerbWord("TOPIC", "evidence: every constant with its source; guide: this command line; schema: the JSON schema of a document.", IsRequired: true),
            new VerbWord("NAME", $"With schema, which document: {string.Join(", ", DocumentSchema.Names)}.", IsRequired: false),
        ],
        [],
        Document: null,
        [new VerbExample("describe schema case", "The JSON schema of a case file.")],
        Run);

    private static ExitCode Run(VerbCall call)
    {
        var topic = call.Word(0)!;
        var name = call.Word(1);
        if (!Topics.Contains(topic))
        {
            return call.Console.WrongUse("describe", Unknown(topic, "topic", Topics));
        }

        if (topic != "schema")
        {
            if (name is not null)
            {
                return call.Console.WrongUse("describe", new Refusal("word_not_expected", $"{Quoted.Text(name)} is not expected behind {topic}.", $"Write secondpass describe {topic}."));
            }

            call.Console.Answer(topic == "evidence" ? EvidenceList.Markdown() : CommandGuide.Markdown(Verbs.All));
            return ExitCode.Done;
        }

        if (name is null || !DocumentSchema.Names.Contains(name))
        {
            return call.Console.WrongUse("describe", Unknown(name ?? string.Empty, "document", DocumentSchema.Names));
        }

        call.Console.Answer(DocumentSchema.Of(name));
        return ExitCode.Done;
    }

    private static Refusal Unknown(string word, string what, IReadOnlyList<string> known)
    {
        var nearest = NearestWord.Of(word, known);
        return new Refusal(
            "word_unknown",
            string.Create(CultureInfo.InvariantCulture, $"{Quoted.Text(word)} is not a {what} that can be described."),
            $"{(nearest is null ? string.Empty : $"Did you mean {nearest}? ")}Known: {string.Join(", ", known)}.");
    }
}
