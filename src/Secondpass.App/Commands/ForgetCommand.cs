using Secondpass.Job.Cases;
using Secondpass.Job.Documents;
using Secondpass.Job.Keeping;

namespace Secondpass.App.Commands;

/// <summary>Forgets a patient for good.</summary>
internal static class ForgetCommand
{
    private static readonly VerbOption Patient = new("--patient", "NUMBER", "The clinic's own patient number, exactly as it stands in the list of cases.", IsRequired: true);
    private static readonly VerbOption By = new("--by", "NAME", "Who forgets them; stays on record.", IsRequired: true);

    /// <summary>The verb.</summary>
    public static Verb Verb { get; } = new(
        "forget",
        "forgets a patient for good: nothing noted about them can be read any more",
        "Destroys the key that everything noted about a patient is encrypted under, deletes the files that only their cases need, and notes that it did; the chain of events stays whole. It can't be undone, and it asks nothing. Backups made before still hold the patient. Local law may say how long a record has to be kept: look that up first.",
        [],
        [Patient, By, StoreOptions.Data, StoreOptions.Store],
        Document: null,
        [],
        Run);

    private static ExitCode Run(VerbCall call)
    {
        if (!ForgetPatient.Forget(StoreOptions.Of(call), call.Required(Patient), new Writer(call.Required(By), "command line"), TimeProvider.System).TryGet(out var text, out var refusal))
        {
            return CommonOptions.Refused(call, refusal, RefusalDocument.From(refusal));
        }

        call.Console.Answer(text);
        return ExitCode.Done;
    }
}
