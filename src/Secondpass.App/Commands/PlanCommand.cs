using Secondpass.Job;
using Secondpass.Job.Documents;
using Secondpass.Job.Plans;

namespace Secondpass.App.Commands;

/// <summary>Plans how the old filling of one tooth comes out.</summary>
internal static class PlanCommand
{
    private static readonly VerbOption Case = new("--case", "FILE", "The case file: the canals, and what is known of lengths, obstacles, walls, instruments and sequences.", IsRequired: true);
    private static readonly VerbOption Film = new("--film", "FILE", "The film on which the canals are marked: it gives widths, walls and where fillings end. Without it only what is typed is known.");
    private static readonly VerbOption Sequence = new("--sequence", "NAME", "The name of a sequence. Without it: the shipped one, or what the case file gives first in its place.");
    private static readonly VerbOption Pdf = new("--pdf", "FILE", "Writes the plan for the tray as a PDF on A5 too; a file of that name is replaced.");

    /// <summary>The verb.</summary>
    public static Verb Verb { get; } = new(
        "plan",
        "how the old filling comes out, step by step, with the stop of each instrument",
        "Holds a sequence of instruments against the canals: where each stops, by which one limit, what it cuts of filling and dentine, which wall is left, and what was not taken and why. By geometry only; bending, heat and wear are not computed. What was not measured is null and said. A tip that doesn't fit the ultrasonic unit is left out; a silver point is never touched by ultrasonics; roots left alone get no steps. Follow the makers' instructions, local rules and licensed practice.",
        [],
        [Case, Film, Sequence, CommonOptions.Json, Pdf],
        typeof(PlanDocument),
        [
            new VerbExample("plan --case case.json --film before.png", "A plan for reading:"),
            new VerbExample("plan --case case.json --json", "The same for a machine, from what the case file says alone:"),
            new VerbExample("plan --case case.json --film before.png --pdf plan.pdf", "And on paper for the tray:"),
        ],
        Run);

    private static ExitCode Run(VerbCall call)
    {
        var casePath = call.Required(Case);
        if (!GivenFiles.Case(casePath).TryGet(out var marked, out var wrongCase))
        {
            return call.Console.WrongUse(casePath, wrongCase);
        }

        MeasuredFilm? measured = null;
        if (call.Value(Film) is { } filmPath)
        {
            if (!GivenFiles.Film(filmPath).TryGet(out var film, out var unreadable))
            {
                return call.Console.WrongUse(filmPath, unreadable);
            }

            if (marked.WhyNotOn(film) is { } outside)
            {
                return call.Console.WrongUse(casePath, outside);
            }

            if (!MeasureCanals.Measure(film, marked).TryGet(out measured, out var notMeasured))
            {
                return CommonOptions.Refused(call, notMeasured, RefusalDocument.From(notMeasured));
            }
        }

        var name = call.Value(Sequence);
        if (!PlanRemoval.Prepare(marked.Tooth, marked.Planning, measured, name).TryGet(out var inputs, out var impossible))
        {
            return call.Console.WrongUse(name is not null && impossible.Code == "sequence_unknown" ? "--sequence" : casePath, impossible);
        }

        if (!PlanRemoval.Plan(inputs).TryGet(out var planned, out var refusal))
        {
            return CommonOptions.Refused(call, refusal, RefusalDocument.From(refusal));
        }

        if (call.Has(CommonOptions.Json))
        {
            call.Console.Answer(DocumentJson.Write(planned.Document));
        }
        else
        {
            call.Console.Answer(PlanText.Of(marked.Tooth, planned.Plan));
        }

        // The answer is given first: a full disk costs the paper, never the answer.
        if (call.Value(Pdf) is { } paper)
        {
            CommandFiles.Write(paper, PlanPaper.Of(inputs, planned, DateOnly.FromDateTime(TimeProvider.System.GetLocalNow().DateTime)));
        }

        return ExitCode.Done;
    }
}
