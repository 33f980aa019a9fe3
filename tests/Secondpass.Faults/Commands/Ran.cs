using System.Diagnostics;

namespace Secondpass.Faults.Commands;

/// <summary>What one run of a program gave.</summary>
/// <param name="ExitCode">Its exit code.</param>
/// <param name="Output">What it wrote to standard output.</param>
/// <param name="Error">What it wrote to standard error.</param>
internal sealed record Ran(int ExitCode, string Output, string Error)
{
    /// <summary>Runs a line of bash and waits for its end.</summary>
    /// <param name="line">The line; <c>$1</c>, <c>$2</c> … are the words.</param>
    /// <param name="folder">Where it runs.</param>
    /// <param name="words">Words handed over untouched.</param>
    /// <param name="path">Folder that is looked into first for programs; null for none.</param>
    /// <param name="variables">Environment variables set besides.</param>
    public static async Task<Ran> Bash(
        string line,
        string folder,
        IEnumerable<string>? words = null,
        string? path = null,
        IReadOnlyDictionary<string, string>? variables = null)
    {
        var start = new ProcessStartInfo("/bin/bash", ["-c", line, "bash", .. words ?? []])
        {
            WorkingDirectory = folder,
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        start.Environment.Remove("SECONDPASS_LONG");
        start.Environment.Remove("SECONDPASS_DETAILS");
        start.Environment["PATH"] = path is null ? Environment.GetEnvironmentVariable("PATH") : $"{path}:{Environment.GetEnvironmentVariable("PATH")}";
        foreach (var (name, value) in variables ?? new Dictionary<string, string>())
        {
            start.Environment[name] = value;
        }

        using var process = Process.Start(start)!;
        process.StandardInput.Close();
        var output = process.StandardOutput.ReadToEndAsync();
        var error = process.StandardError.ReadToEndAsync();
        await process.WaitForExitAsync();
        return new Ran(process.ExitCode, await output, await error);
    }
}
