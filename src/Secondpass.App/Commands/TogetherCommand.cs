using Secondpass.Domain;
using Secondpass.Job;
using Secondpass.Job.Documents;
using Secondpass.Job.Meaning;

namespace Secondpass.App.Commands;

/// <summary>Reads two comparisons of one tooth from different angles together.</summary>
internal static class TogetherCommand
{
    private static readonly VerbWord First = new("FIRST", "An answer of compare --json.", IsRequired: true);
    private static readonly VerbWord Second = new("SECOND", "Another, of the same tooth and visit from another angle, with the same canal names.", IsRequired: true);

    /// <summary>The verb.</summary>
    public static Verb Verb { get; } = new(
        "together",
        "what two pairs of films of one tooth, taken at different angles, say together",
        "Joins the mass left in each canal branch and third from two answers of compare: each weighs by how sure it is, so that a canal hidden behind another on one pair is read from the other. Where the two differ by more than their errors explain, the interval spans both and it says so.",
        [First, Second],
        [CommonOptions.Json],
        typeof(TogetherDocument),
        [],
        Run);

    private static ExitCode Run(VerbCall call)
    {
        var (firstPath, secondPath) = (call.Word(0)!, call.Word(1)!);
        if (!Compared(firstPath).TryGet(out var first, out var wrongFirst))
        {
            return call.Console.WrongUse(firstPath, wrongFirst);
        }

        if (!Compared(secondPath).TryGet(out var second, out var wrongSecond))
        {
            return call.Console.WrongUse(secondPath, wrongSecond);
        }

        if (!TwoViews.Read(first, second).TryGet(out var together, out var refusal))
        {
            return CommonOptions.Refused(call, refusal, RefusalDocument.From(refusal));
        }

        CommonOptions.Answer(call, together, () => ResultText.Of(together));
        return ExitCode.Done;
    }

    private static Answer<CompareDocument> Compared(string path) =>
        CommandFiles.Read(path, CompareReader.LargestBytes).TryGet(out var bytes, out var refusal) ? CompareReader.Read(bytes) : refusal;
}
