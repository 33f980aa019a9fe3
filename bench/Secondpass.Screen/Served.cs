using System.Diagnostics;

namespace Secondpass.Screen;

/// <summary>The workbench as a user starts it, on an empty data folder.</summary>
internal sealed class Served : IAsyncDisposable
{
    private readonly Process process;

    private Served(Process process, string data, string address)
    {
        this.process = process;
        Data = data;
        Address = address;
    }

    /// <summary>Its data folder, which its command line names.</summary>
    public string Data { get; }

    /// <summary>Where it answers.</summary>
    public string Address { get; }

    /// <summary>Starts it; the repository is the current folder.</summary>
    public static async Task<Served> Start()
    {
        var data = Directory.CreateTempSubdirectory("secondpass-screen-").FullName;
        var process = Process.Start(new ProcessStartInfo("./secondpass", ["--port", "0", "--data", data]) { RedirectStandardOutput = true })!;
        const string said = "Secondpass is at ";
        while (await process.StandardOutput.ReadLineAsync() is { } line)
        {
            if (line.StartsWith(said, StringComparison.Ordinal))
            {
                _ = process.StandardOutput.ReadToEndAsync();
                return new Served(process, data, line[said.Length..]);
            }
        }

        throw new InvalidOperationException("./secondpass ended without an address; run this in the repository.");
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        process.Kill(entireProcessTree: true);
        await process.WaitForExitAsync();
        process.Dispose();
        Directory.Delete(Data, recursive: true);
    }
}
