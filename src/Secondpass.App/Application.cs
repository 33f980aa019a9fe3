namespace Secondpass.App;

/// <summary>The one executable: a verb runs a command, no verb serves the workbench.</summary>
internal static class Application
{
    /// <summary>Runs one call of the program.</summary>
    /// <param name="args">The words after the program's name.</param>
    /// <returns>The exit code: 0 done, 1 refused, 2 wrong use, 3 failed.</returns>
    public static int Run(string[] args) => args.Length == 0 ? 0 : 2;
}
