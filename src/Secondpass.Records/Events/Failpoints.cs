namespace Secondpass.Records.Events;

/// <summary>Named places on the way of an event or a file into the store, at which a test can stop or end the process.</summary>
internal static class Failpoints
{
    /// <summary>A file's bytes are on the disk under a name for the meantime.</summary>
    public const string FileBeforeItsName = "file-before-its-name";

    /// <summary>A file has its name, and no event speaks of it yet.</summary>
    public const string AfterFileBeforeEvent = "after-file-before-event";

    /// <summary>An event is written in its transaction, and the projections don't know it yet.</summary>
    public const string AfterEventBeforeProjection = "after-event-before-projection";

    /// <summary>Everything is written in its transaction.</summary>
    public const string BeforeCommit = "before-commit";

    /// <summary>The transaction is complete, and the caller doesn't know yet.</summary>
    public const string AfterCommit = "after-commit";

    /// <summary>Called with each name that is reached; null outside tests.</summary>
    public static Action<string>? Reached { get; set; }

    /// <summary>Says that a place is reached.</summary>
    public static void At(string name) => Reached?.Invoke(name);
}
