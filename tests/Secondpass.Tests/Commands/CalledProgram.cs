using System.Text;
using Secondpass.App;
using Secondpass.App.Commands;

namespace Secondpass.Tests.Commands;

/// <summary>What one call of the program gave.</summary>
/// <param name="ExitCode">Its exit code.</param>
/// <param name="Output">What it wrote to standard output.</param>
/// <param name="Error">What it wrote to standard error.</param>
internal sealed record CalledProgram(int ExitCode, string Output, string Error)
{
    /// <summary>Calls the program in this process.</summary>
    public static CalledProgram With(params IReadOnlyList<string> args)
    {
        using var output = new MemoryStream();
        using var error = new MemoryStream();
        var code = Application.Run(args, new CommandConsole(output, error));
        return new CalledProgram(code, Encoding.UTF8.GetString(output.ToArray()), Encoding.UTF8.GetString(error.ToArray()));
    }
}
