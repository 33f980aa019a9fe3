using System.Text;
using Secondpass.Domain;

namespace Secondpass.App.Commands;

/// <summary>Where a command writes: answers to standard output, everything else to standard error, both in UTF-8 on every machine.</summary>
/// <param name="output">Standard output.</param>
/// <param name="error">Standard error.</param>
internal sealed class CommandConsole(Stream output, Stream error)
{
    private static readonly UTF8Encoding Utf8 = new(encoderShouldEmitUTF8Identifier: false);

    /// <summary>Writes to standard output.</summary>
    /// <exception cref="CommandFailure">It can't be written: a full disk, a closed pipe.</exception>
    public void Answer(ReadOnlySpan<byte> bytes)
    {
        try
        {
            output.Write(bytes);
            output.Flush();
        }
        catch (IOException exception)
        {
            throw new CommandFailure($"the answer can't be written to standard output: {CommandFailure.Because(exception)}", exception);
        }
    }

    /// <summary>Writes to standard output.</summary>
    /// <exception cref="CommandFailure">It can't be written.</exception>
    public void Answer(string text) => Answer(Utf8.GetBytes(text));

    /// <summary>Writes a line to standard error.</summary>
    public void Say(string line)
    {
        try
        {
            error.Write(Utf8.GetBytes(line + "\n"));
            error.Flush();
        }
        catch (IOException)
        {
            // Nobody listens: the exit code still tells.
        }
    }

    /// <summary>Says what was wrong with a call or a file.</summary>
    /// <param name="source">The verb, the option or the file.</param>
    /// <param name="refusal">What is wrong and what to do.</param>
    public ExitCode WrongUse(string source, Refusal refusal)
    {
        Say($"secondpass: {source}: {refusal.Reason}");
        Say(refusal.Remedy);
        return ExitCode.WrongUse;
    }
}
