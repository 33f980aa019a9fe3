using Secondpass.Job;
using Secondpass.Job.Documents;

namespace Secondpass.App.Commands;

/// <summary>Measures the canals on one film.</summary>
internal static class MeasureCommand
{
    private static readonly VerbOption Film = new("--film", "FILE", "The film: PNG, JPEG, TIFF, BMP or DICOM, known by its content.", IsRequired: true);
    private static readonly VerbOption Case = new("--case", "FILE", "The case file with the marks on the film.", IsRequired: true);

    /// <summary>The verb.</summary>
    public static Verb Verb { get; } = new(
        "measure",
        "lengths, curvature and widths of the filled canals on one film",
        "Traces each canal through its marks and measures it as projected on the film: length, how far it is filled, where the filling ends, angle after Schneider, angle and radius after Pruett, the filling's width every 0.1 mm, and two signs of something missed. The case file's scale beats the film's own, with a notice; without a scale there are shares and no millimetres.",
        [],
        [Film, Case, CommonOptions.Json, CommonOptions.Picture],
        typeof(MeasureDocument),
        [
            new VerbExample("measure --film before.png --case case.json", "A table for reading:"),
            new VerbExample("measure --film before.png --case case.json --json --picture traced.png", "The same for a machine, and the film with its traced canals as a picture:"),
        ],
        Run);

    private static ExitCode Run(VerbCall call)
    {
        var filmPath = call.Required(Film);
        if (!GivenFiles.Film(filmPath).TryGet(out var film, out var unreadable))
        {
            return call.Console.WrongUse(filmPath, unreadable);
        }

        var casePath = call.Required(Case);
        if (!GivenFiles.Case(casePath).TryGet(out var marked, out var wrongCase))
        {
            return call.Console.WrongUse(casePath, wrongCase);
        }

        if (marked.WhyNotOn(film) is { } outside)
        {
            return call.Console.WrongUse(casePath, outside);
        }

        if (!MeasureCanals.Measure(film, marked).TryGet(out var measured, out var refusal))
        {
            return CommonOptions.Refused(call, refusal, RefusalDocument.From(refusal));
        }

        return CommonOptions.Answer(call, measured.Document, () => ResultText.Of(marked, measured), () => ResultPicture.Of(film, measured));
    }
}
