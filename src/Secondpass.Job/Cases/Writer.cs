using Secondpass.Records.Events;

namespace Secondpass.Job.Cases;

/// <summary>Who writes into a case, and at which screen.</summary>
/// <param name="Who">The person, as the screen knows them.</param>
/// <param name="Device">The screen: a word of its own that stays the same.</param>
public sealed record Writer(string Who, string Device)
{
    internal Author Author => new(Who, Device);
}
