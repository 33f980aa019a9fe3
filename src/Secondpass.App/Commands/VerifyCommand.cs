using Secondpass.Job.Documents;
using Secondpass.Job.Keeping;

namespace Secondpass.App.Commands;

/// <summary>Checks that everything kept still is what was stored.</summary>
internal static class VerifyCommand
{
    /// <summary>The verb.</summary>
    public static Verb Verb { get; } = new(
        "verify",
        "whether everything that is kept still is what was stored",
        "Walks the chain of everything that was ever noted and checks each event against the hash that it was stored with, the order, and the signed end; then every film, paper and sheet against the SHA-256 that it is named by. Names the first event that was changed, damaged, removed or cut off, and every file. It only reads: a store of an older version is not brought up to date, and the workbench may run meanwhile. Exit code 1 when anything is not as it was stored.",
        [],
        [StoreOptions.Data, StoreOptions.Store, CommonOptions.Json],
        typeof(VerifyDocument),
        [],
        Run);

    private static ExitCode Run(VerbCall call)
    {
        if (!VerifyStore.Verify(StoreOptions.Of(call), TimeProvider.System).TryGet(out var found, out var refusal))
        {
            return CommonOptions.Refused(call, refusal, RefusalDocument.From(refusal));
        }

        CommonOptions.Answer(call, found, () => VerifyStore.Text(found));
        return found.Ok ? ExitCode.Done : ExitCode.Refused;
    }
}
