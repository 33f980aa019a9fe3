using System.Diagnostics;

namespace Secondpass.Outside;

/// <summary>Runs the scripts in the folder <c>Python</c> with the system's Python, for checks against other people's software.</summary>
internal static class PythonRunner
{
    private const string Interpreter = "/usr/bin/python3";

    private const string Install =
        "apt-get install -y python3 python3-numpy python3-scipy python3-pil python3-opencv python3-skimage python3-tifffile python3-pydicom dcmtk";

    /// <summary>Runs a script to its end and returns what it printed.</summary>
    /// <param name="scriptNameUnderPythonFolder">The script's file name, such as <c>write_films.py</c>.</param>
    /// <param name="args">The words passed to it.</param>
    /// <returns>Everything on its standard output.</returns>
    /// <exception cref="InvalidOperationException">There is no Python, or the script failed; the message holds what it said, and how to install what it needs.</exception>
    public static string Run(string scriptNameUnderPythonFolder, params string[] args)
    {
        if (!File.Exists(Interpreter))
        {
            throw new InvalidOperationException($"{Interpreter} is missing. Run: {Install}");
        }

        var start = new ProcessStartInfo(Interpreter) { RedirectStandardOutput = true, RedirectStandardError = true };
        start.ArgumentList.Add(Path.Combine(AppContext.BaseDirectory, "Python", scriptNameUnderPythonFolder));
        foreach (var arg in args)
        {
            start.ArgumentList.Add(arg);
        }

        using var python = Process.Start(start)!;
        var errors = python.StandardError.ReadToEndAsync();
        var output = python.StandardOutput.ReadToEnd();
        python.WaitForExit();
        return python.ExitCode == 0
            ? output
            : throw new InvalidOperationException(
                $"{scriptNameUnderPythonFolder} ended with {python.ExitCode.ToString(CultureInfo.InvariantCulture)}:\n{errors.Result}\nIf something is not installed, run: {Install}");
    }
}
