using System.Globalization;
using Secondpass.Domain;

namespace Secondpass.App.Commands;

/// <summary>Reads and writes the files that a command is given.</summary>
internal static class CommandFiles
{
    /// <summary>The largest film file that is read, in bytes: no film comes near it, and memory stays bounded.</summary>
    public const long LargestFilmBytes = 1L << 29;

    /// <summary>Reads a file whole.</summary>
    /// <param name="path">Its path.</param>
    /// <param name="largestBytes">The largest that is read.</param>
    /// <returns>Its bytes; or why it can't be read.</returns>
    public static Answer<byte[]> Read(string path, long largestBytes)
    {
        try
        {
            if (Directory.Exists(path))
            {
                return new Refusal("is_a_folder", "this is a folder.", "Give the path of a file.");
            }

            using var stream = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);

            // A pipe has no length; it is read up to the limit too.
            using var bytes = new MemoryStream();
            var piece = new byte[1 << 16];
            for (var read = stream.Read(piece); read > 0; read = stream.Read(piece))
            {
                bytes.Write(piece, 0, read);
                if (bytes.Length > largestBytes)
                {
                    return new Refusal(
                        "file_too_large",
                        string.Create(CultureInfo.InvariantCulture, $"the file is larger than {largestBytes / 1_000_000} million bytes."),
                        "Check that this is the right file.");
                }
            }

            return bytes.ToArray();
        }
        catch (Exception exception) when (IsAboutFiles(exception))
        {
            return new Refusal("file_not_read", CommandFailure.Because(exception), "Check the path; put a path with spaces in quotes.");
        }
    }

    /// <summary>Writes a file whole or not at all: what stood there stays until the new one is complete.</summary>
    /// <param name="path">Its path.</param>
    /// <param name="bytes">Its content.</param>
    /// <exception cref="CommandFailure">It can't be written; nothing is left behind.</exception>
    public static void Write(string path, byte[] bytes)
    {
        try
        {
            var link = File.Exists(path) ? File.ResolveLinkTarget(path, returnFinalTarget: true) : null;
            var target = link?.FullName ?? Path.GetFullPath(path);
            if (target.StartsWith("/dev/", StringComparison.Ordinal))
            {
                // A terminal or pipe is written to; only a plain file can be put in place at the end.
                WriteThrough(target, bytes);
                return;
            }

            var unfinished = string.Create(CultureInfo.InvariantCulture, $"{target}.{Environment.ProcessId}.unfinished");
            try
            {
                WriteThrough(unfinished, bytes);
                File.Move(unfinished, target, overwrite: true);
            }
            finally
            {
                File.Delete(unfinished);
            }
        }
        catch (Exception exception) when (IsAboutFiles(exception))
        {
            throw new CommandFailure($"“{path}” can't be written: {CommandFailure.Because(exception)}", exception);
        }
    }

    private static void WriteThrough(string path, byte[] bytes)
    {
        using var stream = new FileStream(path, FileMode.Create, FileAccess.Write, FileShare.None);
        stream.Write(bytes);
    }

    private static bool IsAboutFiles(Exception exception) =>
        exception is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException;
}
