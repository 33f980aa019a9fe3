using Secondpass.Domain;
using Secondpass.Job;
using Secondpass.Job.Documents;

namespace Secondpass.App.Commands;

/// <summary>Compares two films: what is left in each canal.</summary>
internal static class CompareCommand
{
    private static readonly VerbOption Before = new("--before", "FILE", "The film before removal.", IsRequired: true);
    private static readonly VerbOption After = new("--after", "FILE", "The film after or during removal.", IsRequired: true);
    private static readonly VerbOption Case = new("--case", "FILE", "The case file with the marks on the film before and what stands in the canals on the film after. Without it the pair is refused: the films are laid over each other along the marked canals.");

    /// <summary>The verb.</summary>
    public static Verb Verb { get; } = new(
        "compare",
        "what is left of the old filling, from a film before and a film after",
        "Lays the film after over the film before, matches their exposure, and estimates for each canal branch and third how much of the filling is left, with a 95 % interval and the smallest patch that these films could show. A branch with an instrument, a dressing or a new filling in place has no result, and says so. Films that can't be compared are refused, with the reason and what to do; the answer is then the same document with registration.ok false.",
        [],
        [Before, After, Case, CommonOptions.Json, CommonOptions.Picture],
        typeof(CompareDocument),
        [
            new VerbExample("compare --before before.png --after after.png --case case.json", "A table for reading:"),
            new VerbExample("compare --before before.png --after after.png --case case.json --json --picture left.png", "The same for a machine, and the overlay with the canal strips as a picture:"),
        ],
        Run);

    private static ExitCode Run(VerbCall call)
    {
        var (beforePath, afterPath) = (call.Required(Before), call.Required(After));
        var casePath = call.Value(Case);
        var readingBefore = Task.Run(() => GivenFiles.Film(beforePath));
        var readingAfter = Task.Run(() => GivenFiles.Film(afterPath));
        var readCase = casePath is null ? MarkedCase.WithoutCanals : GivenFiles.Case(casePath);
        if (!readingBefore.GetAwaiter().GetResult().TryGet(out var before, out var unreadableBefore))
        {
            return call.Console.WrongUse(beforePath, unreadableBefore);
        }

        if (!readingAfter.GetAwaiter().GetResult().TryGet(out var after, out var unreadableAfter))
        {
            return call.Console.WrongUse(afterPath, unreadableAfter);
        }

        if (!readCase.TryGet(out var marked, out var wrongCase))
        {
            return call.Console.WrongUse(casePath!, wrongCase);
        }

        if (casePath is not null)
        {
            if (marked.WhyNotOn(before) is { } outside)
            {
                return call.Console.WrongUse(casePath, outside);
            }

            if (marked.AfterState is null)
            {
                return call.Console.WrongUse(casePath, new Refusal(
                    "after_state_not_said",
                    "“after_state” does not say what stands in the canals on the film after.",
                    $"Add \"after_state\": one of {string.Join(", ", EnumWords.All(typeof(Domain.Films.AfterState)))}."));
            }
        }

        if (!CompareFilms.Compare(before, after, marked).TryGet(out var compared, out var refusal))
        {
            return CommonOptions.Refused(call, refusal, CompareDocument.Refused(refusal, before.Notices));
        }

        return CommonOptions.Answer(call, compared.Document, () => ResultText.Of(marked, compared), () => ResultPicture.Of(compared));
    }
}
