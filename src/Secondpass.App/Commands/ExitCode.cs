namespace Secondpass.App.Commands;

/// <summary>How a call of the program ended, as the shell sees it.</summary>
internal enum ExitCode
{
    /// <summary>The answer was given.</summary>
    Done = 0,

    /// <summary>There is no answer, for a reason that lies in the films or in the store.</summary>
    Refused = 1,

    /// <summary>The call was wrong or a file could not be read.</summary>
    WrongUse = 2,

    /// <summary>Something failed: a full disk, a defect.</summary>
    Failed = 3,
}

/// <summary>What the exit codes mean, for help and guide.</summary>
internal static class ExitCodes
{
    /// <summary>The codes in order, with their meaning.</summary>
    public static IReadOnlyList<(ExitCode Code, string Means)> All { get; } =
    [
        (ExitCode.Done, "Done."),
        (ExitCode.Refused, "Refused: the films, the marks or the store give no answer, or the store is not as it was left. The reason stands as JSON on standard output, with or without --json."),
        (ExitCode.WrongUse, "Wrong use, or a file that can't be read. The value, what was expected and what to do stand on standard error."),
        (ExitCode.Failed, "Failed: a full disk, or a defect of the program. One line stands on standard error."),
    ];
}
