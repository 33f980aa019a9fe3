using System.Reflection;
using Secondpass.App.Commands;
using Secondpass.Job.Documents;

namespace Secondpass.App;

/// <summary>The one executable: a verb runs a command, no verb serves the workbench.</summary>
internal static class Application
{
    /// <summary>The environment variable that shows what a failure looks like from the inside; for those who mend it.</summary>
    public const string DetailsVariable = "SECONDPASS_DETAILS";

    /// <summary>Runs one call of the program.</summary>
    /// <param name="args">The words after the program's name.</param>
    /// <returns>The exit code: 0 done, 1 refused, 2 wrong use, 3 failed.</returns>
    public static int Run(string[] args)
    {
        using var output = Console.OpenStandardOutput();
        using var error = Console.OpenStandardError();
        return Run(args, new CommandConsole(output, error));
    }

    /// <summary>Runs one call of the program.</summary>
    /// <param name="args">The words after the program's name.</param>
    /// <param name="console">Where it writes.</param>
    /// <returns>The exit code.</returns>
    public static int Run(IReadOnlyList<string> args, CommandConsole console)
    {
        try
        {
            return (int)Choose(args, console);
        }
        catch (CommandFailure failure)
        {
            console.Say($"secondpass: {failure.Message}");
            SayDetails(console, failure);
        }
#pragma warning disable CA1031 // The last gate: whatever escaped is a defect, and a person gets one line, never a stack trace.
        catch (Exception defect)
#pragma warning restore CA1031
        {
            console.Say($"secondpass: this is a fault of the program, not of your films ({defect.GetType().Name}). Your files were not changed. {DetailsVariable}=1 shows more, for a report.");
            SayDetails(console, defect);
        }

        return (int)ExitCode.Failed;
    }

    private static ExitCode Choose(IReadOnlyList<string> args, CommandConsole console)
    {
        switch (args)
        {
            case ["--help" or "-h" or "-?" or "help"]:
                console.Answer(HelpText.Of(Verbs.All));
                return ExitCode.Done;
            case ["--version"]:
                console.Answer($"secondpass {Version}\n");
                return ExitCode.Done;
            case ["help", var name, ..]:
                return Choose([name, "--help"], console);
            case [var first, ..] when !first.StartsWith('-'):
                return Verbs.All.FirstOrDefault(verb => verb.Name == first) is { } named
                    ? Run(named, [.. args.Skip(1)], console)
                    : Unknown(first, console);
            default:
                return Run(Verbs.All[0], args, console);
        }
    }

    private static ExitCode Run(Verb verb, IReadOnlyList<string> args, CommandConsole console)
    {
        if (args.Any(word => word is "--help" or "-h" or "-?"))
        {
            console.Answer(HelpText.Of(verb));
            return ExitCode.Done;
        }

        return CommandParser.Parse(verb, args, console).TryGet(out var call, out var wrong)
            ? verb.Run(call)
            : console.WrongUse(verb.Name, wrong);
    }

    private static ExitCode Unknown(string word, CommandConsole console)
    {
        var nearest = NearestWord.Of(word, Verbs.All.Select(verb => verb.Name));
        console.Say($"secondpass: {Quoted.Text(word)} is not a verb.");
        console.Say(nearest is null
            ? $"Verbs: {string.Join(", ", Verbs.All.Select(verb => verb.Name))}."
            : $"Did you mean {nearest}?");
        return ExitCode.WrongUse;
    }

    private static void SayDetails(CommandConsole console, Exception exception)
    {
        if (Environment.GetEnvironmentVariable(DetailsVariable) is { Length: > 0 })
        {
            console.Say(exception.ToString());
        }
    }

    private static string Version =>
        typeof(Application).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()?.InformationalVersion.Split('+')[0] ?? "0";
}
