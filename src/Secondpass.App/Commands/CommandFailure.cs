namespace Secondpass.App.Commands;

/// <summary>A command that had to stop half-way: nothing that the caller could have written differently.</summary>
/// <param name="message">What failed and why, in one line that begins small.</param>
/// <param name="inner">What the machine said.</param>
internal sealed class CommandFailure(string message, Exception inner) : Exception(message, inner)
{
    /// <summary>Why an input or output failed, in words where the machine's own are too technical.</summary>
    public static string Because(Exception exception) => exception switch
    {
        UnauthorizedAccessException => "this account may not do that.",
        DirectoryNotFoundException => "the folder does not exist.",
        FileNotFoundException => "there is no such file.",
        PathTooLongException => "the path is too long.",
        IOException { HResult: DiskFullOnWindows or DiskFullOnUnix } => "the disk is full.",
        _ => exception.Message.ReplaceLineEndings(" "),
    };

    private const int DiskFullOnWindows = unchecked((int)0x80070070);

    // ENOSPC; .NET hands the number of the operating system through.
    private const int DiskFullOnUnix = 28;
}
