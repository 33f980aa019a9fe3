using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using Secondpass.Domain;

namespace Secondpass.Job.Documents;

/// <summary>The answer of a command that refuses: why, and what to do.</summary>
/// <param name="Schema">Always 1.</param>
/// <param name="Refusal">The refusal.</param>
[Description("What a command answers when it refuses, with exit code 1.")]
public sealed record RefusalDocument(
    [property: Description("Always 1."), AllowedValues(1)] int Schema,
    [property: Description("Why there is no result.")] RefusedDocument Refusal)
{
    /// <summary>The document of a refusal.</summary>
    public static RefusalDocument From(Refusal refusal)
    {
        ArgumentNullException.ThrowIfNull(refusal);
        return new RefusalDocument(1, new RefusedDocument(refusal.Code, refusal.Reason, refusal.Remedy, refusal.Evidence));
    }
}

/// <summary>Why there is no result.</summary>
/// <param name="Code">A stable word.</param>
/// <param name="Reason">Why.</param>
/// <param name="Remedy">What to do.</param>
/// <param name="Evidence">The figures.</param>
[Description("A refusal: an expected outcome, not a fault of the program.")]
public sealed record RefusedDocument(
    [property: Description("A short stable word for machines, small letters and underscores.")] string Code,
    [property: Description("What can't be done and why, in a sentence.")] string Reason,
    [property: Description("What to do now, in a sentence.")] string Remedy,
    [property: Description("The figures it rests on, by name, with the unit in the name.")] IReadOnlyDictionary<string, double> Evidence);
