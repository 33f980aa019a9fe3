using Secondpass.Exchange.Wording;

namespace Secondpass.Job.Meaning;

/// <summary>What is said of new material outside the old filling, besides size and place.</summary>
public static class MovedSaid
{
    /// <summary>What may look like it.</summary>
    public static string MayBe => MovedWords.MayBe;

    /// <summary>What was looked for where none is reported.</summary>
    public static string NoneSeen => MovedWords.NoneSeen;
}
