namespace Secondpass.App.Commands;

/// <summary>All verbs. A new one is one file and one line here.</summary>
internal static class Verbs
{
    /// <summary>The verbs in the order of help; the first runs when none is named.</summary>
    public static IReadOnlyList<Verb> All { get; } =
    [
        ServeCommand.Verb,
        MeasureCommand.Verb,
        CompareCommand.Verb,
        TogetherCommand.Verb,
        MeasurementsCommand.Verb,
        PlanCommand.Verb,
        VerifyCommand.Verb,
        KeyCommand.Verb,
        ForgetCommand.Verb,
        DescribeCommand.Verb,
    ];
}
