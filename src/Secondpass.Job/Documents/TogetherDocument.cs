using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using Secondpass.Job.Meaning;

namespace Secondpass.Job.Documents;

/// <summary>The answer of <c>together</c>.</summary>
/// <param name="Schema">Always 1.</param>
/// <param name="Canals">One entry per branch that either result holds.</param>
/// <param name="Notices">What the dentist should know.</param>
[Description("What together answers: how much of the filling's mass is left, read from two pairs of films of one tooth that were taken at different angles.")]
public sealed record TogetherDocument(
    [property: Description("Always 1."), AllowedValues(1)] int Schema,
    [property: Description("One entry per branch that either result holds, in the order of the first, then of the second.")] IReadOnlyList<TogetherCanalDocument> Canals,
    [property: Description("What the dentist should know about reading two pairs together, in sentences.")] IReadOnlyList<string> Notices);

/// <summary>One branch from two pairs.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Whole">The whole branch.</param>
/// <param name="Coronal">Next to the crown.</param>
/// <param name="Middle">Between.</param>
/// <param name="Apical">Next to the end.</param>
[Description("One canal branch read from two pairs of films.")]
public sealed record TogetherCanalDocument(
    [property: Description("The branch's name.")] string Name,
    [property: Description("The whole branch.")] TogetherShareDocument Whole,
    [property: Description("Next to the crown.")] TogetherShareDocument Coronal,
    [property: Description("Between the two others.")] TogetherShareDocument Middle,
    [property: Description("Next to the canal's end.")] TogetherShareDocument Apical);

/// <summary>What is left over one length of canal, from two pairs.</summary>
/// <param name="From">What it was read from.</param>
/// <param name="MassPercent">Mass left.</param>
/// <param name="MassInterval">Its interval.</param>
[Description("Mass left over one length of canal.")]
public sealed record TogetherShareDocument(
    [property: Description("both: from both pairs; disagree: from both, which differ by more than their errors explain, so that the interval spans both; first or second: only that pair can tell; none."), Words(typeof(ViewsUsed))] string From,
    [property: Description("Radiopaque mass left in percent of before; unclipped; null when from none.")] double? MassPercent,
    [property: Description("Its 95 % interval [low, high]."), Columns("low", "high")] double[]? MassInterval);
