using Secondpass.Domain;
using Secondpass.Job.Documents;

namespace Secondpass.App.Commands;

/// <summary>What all commands that answer have alike: as JSON or as text, with a picture or without.</summary>
internal static class CommonOptions
{
    /// <summary>Answer as JSON.</summary>
    public static VerbOption Json { get; } = new("--json", null, "Answers one JSON document instead of a table.");

    /// <summary>Write a picture.</summary>
    public static VerbOption Picture { get; } = new("--picture", "FILE", "Writes the result as a PNG picture too; a file of that name is replaced.");

    /// <summary>Gives the answer: as JSON where asked, else as text.</summary>
    /// <param name="call">The call.</param>
    /// <param name="document">The answer for machines.</param>
    /// <param name="text">The answer for people.</param>
    public static void Answer<T>(VerbCall call, T document, Func<string> text)
    {
        if (call.Has(Json))
        {
            call.Console.Answer(DocumentJson.Write(document));
        }
        else
        {
            call.Console.Answer(text());
        }
    }

    /// <summary>Gives the answer; then, if asked, writes the picture: a full disk costs the picture, never the answer.</summary>
    /// <param name="call">The call.</param>
    /// <param name="document">The answer for machines.</param>
    /// <param name="text">The answer for people.</param>
    /// <param name="picture">The picture, as PNG.</param>
    public static ExitCode Answer<T>(VerbCall call, T document, Func<string> text, Func<byte[]> picture)
    {
        Answer(call, document, text);
        if (call.Value(Picture) is { } path)
        {
            CommandFiles.Write(path, picture());
        }

        return ExitCode.Done;
    }

    /// <summary>Gives a refusal: its document to standard output always, and its sentences to whoever reads along.</summary>
    public static ExitCode Refused<T>(VerbCall call, Refusal refusal, T document)
    {
        call.Console.Answer(DocumentJson.Write(document));
        if (!call.Has(Json))
        {
            call.Console.Say(refusal.Reason);
            call.Console.Say(refusal.Remedy);
        }

        return ExitCode.Refused;
    }
}
