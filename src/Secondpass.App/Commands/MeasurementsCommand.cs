using Secondpass.Domain.Cases;
using Secondpass.Job.Cases;
using Secondpass.Job.Documents;

namespace Secondpass.App.Commands;

/// <summary>Gives out everything measured on the films of a case.</summary>
internal static class MeasurementsCommand
{
    private static readonly VerbWord Case = new("CASE", "The case, as it stands behind /cases/ in the address of its page.", IsRequired: true);

    /// <summary>The verb.</summary>
    public static Verb Verb { get; } = new(
        "measurements",
        "everything measured and drawn on the films of a case",
        "Gives out what was measured and drawn on the films of a case, as a table (CSV) with one row for each canal and each thing drawn, the unit in the header; or as JSON. The same as on the page of its films. It names no patient and changes nothing.",
        [Case],
        [CommonOptions.Json, StoreOptions.Data, StoreOptions.Store],
        typeof(MeasurementsDocument),
        [],
        Run);

    private static ExitCode Run(VerbCall call)
    {
        if (!ExportMeasurements.From(StoreOptions.Of(call), new CaseId(call.Word(0)!), call.Has(CommonOptions.Json), TimeProvider.System).TryGet(out var bytes, out var refusal))
        {
            return CommonOptions.Refused(call, refusal, RefusalDocument.From(refusal));
        }

        call.Console.Answer(bytes);
        return ExitCode.Done;
    }
}
