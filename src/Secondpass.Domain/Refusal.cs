namespace Secondpass.Domain;

/// <summary>Why an answer is not given: an expected outcome, not a defect. Defects are exceptions.</summary>
/// <param name="Code">A short stable word for machines, such as <c>films_of_two_teeth</c>; lower case, underscores.</param>
/// <param name="Reason">What can't be done and why, in a sentence for the dentist, quoting the value that was wrong.</param>
/// <param name="Remedy">What to do now, in a sentence for the dentist.</param>
/// <param name="Evidence">The figures that the refusal rests on, by name, with units in the name; may be empty.</param>
public sealed record Refusal(
    string Code,
    string Reason,
    string Remedy,
    IReadOnlyDictionary<string, double> Evidence)
{
    /// <summary>A refusal that rests on no figures.</summary>
    public Refusal(string code, string reason, string remedy)
        : this(code, reason, remedy, new Dictionary<string, double>())
    {
    }
}
