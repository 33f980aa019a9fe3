using System.Text;
using Secondpass.Job.Documents;
using Secondpass.Job.Keeping;

namespace Secondpass.App.Commands;

/// <summary>Prints the recovery sheet, or restores the clinic key from it.</summary>
internal static class KeyCommand
{
    private const long LargestSheetBytes = 1 << 16;

    private static readonly VerbOption Restore = new("--restore", "FILE", "Puts the clinic key back into the data folder from this text file: the recovery sheet, or its groups alone.");

    /// <summary>The verb.</summary>
    public static Verb Verb { get; } = new(
        "key",
        "the recovery sheet to print, or the clinic key restored from it",
        "Prints the recovery sheet: the clinic key in 13 groups, each with a character that checks it. Without the clinic key, a file in the data folder, no case can be read, and nobody can make it again: print the sheet and keep it locked away, apart from the computer. With --restore it is read back; a key that is there already is put aside under another name.",
        [],
        [StoreOptions.Data, StoreOptions.Store, Restore],
        Document: null,
        [],
        Run);

    private static ExitCode Run(VerbCall call)
    {
        var place = StoreOptions.Of(call);
        Domain.Answer<string> answer;
        if (call.Value(Restore) is { } path)
        {
            if (!CommandFiles.Read(path, LargestSheetBytes).TryGet(out var bytes, out var unreadable))
            {
                return call.Console.WrongUse(path, unreadable);
            }

            answer = ClinicKeySheet.Restore(place, Encoding.UTF8.GetString(bytes), TimeProvider.System);
        }
        else
        {
            answer = ClinicKeySheet.Print(place, TimeProvider.System);
        }

        if (!answer.TryGet(out var text, out var refusal))
        {
            return CommonOptions.Refused(call, refusal, RefusalDocument.From(refusal));
        }

        call.Console.Answer(text);
        return ExitCode.Done;
    }
}
