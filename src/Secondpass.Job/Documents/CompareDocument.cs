using System.ComponentModel;

namespace Secondpass.Job.Documents;

/// <summary>The answer of <c>compare</c>.</summary>
/// <param name="Schema">Always 1.</param>
/// <param name="Registration">How the films lie over each other.</param>
/// <param name="Canals">One entry per branch, parents before children; empty when the films can't be compared.</param>
/// <param name="Notices">What the dentist should know.</param>
public sealed record CompareDocument(
    [property: Description("Always 1.")] int Schema,
    [property: Description("How the film after was laid over the film before.")] RegistrationDocument Registration,
    [property: Description("One entry per branch, parents before children; empty when the films can't be compared.")] IReadOnlyList<ComparedCanalDocument> Canals,
    [property: Description("What the dentist should know about this pair, in sentences.")] IReadOnlyList<string> Notices);

/// <summary>The registration.</summary>
/// <param name="Ok">Whether the films could be laid over each other.</param>
/// <param name="Reason">Why not.</param>
/// <param name="Remedy">What to do.</param>
/// <param name="Matrix">The matrix.</param>
/// <param name="SelfRmsPx">Its own check.</param>
public sealed record RegistrationDocument(
    [property: Description("Whether the films could be laid over each other.")] bool Ok,
    [property: Description("Why not, in a sentence; null when ok.")] string? Reason,
    [property: Description("What to do about it, in a sentence; null when ok.")] string? Remedy,
    [property: Description("Nine numbers, row by row, of the matrix that takes [x, y, 1] of the film after to the film before; the last is 1; null when not ok. The global part only: displacement_px holds what was found along each canal.")] IReadOnlyList<double>? Matrix,
    [property: Description("How far the registration is off along the canals by its own check, root mean square in pixels of the film before; null when not ok.")] double? SelfRmsPx);

/// <summary>One branch compared.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Status">ok or refused.</param>
/// <param name="Reason">Why refused.</param>
/// <param name="AreaPercent">Area left.</param>
/// <param name="AreaInterval">Its interval.</param>
/// <param name="MassPercent">Mass left.</param>
/// <param name="MassInterval">Its interval.</param>
/// <param name="Thirds">The thirds.</param>
/// <param name="DisplacementPx">Where the canal is found on the film after.</param>
/// <param name="DetectionLimitMm2">Smallest patch.</param>
/// <param name="OverlapShare">Overlap.</param>
public sealed record ComparedCanalDocument(
    [property: Description("The branch's name.")] string Name,
    [property: Description("ok or refused.")] string Status,
    [property: Description("Why there is no result, in a sentence; null when ok.")] string? Reason,
    [property: Description("Projected area of residue at least 0.10 mm thick along the ray, in percent of the filling's area before; unclipped; null when refused or not known.")] double? AreaPercent,
    [property: Description("Its 95 % interval [low, high].")] double[]? AreaInterval,
    [property: Description("Radiopaque mass left in percent of before; unclipped; null when refused or not known.")] double? MassPercent,
    [property: Description("Its 95 % interval [low, high].")] double[]? MassInterval,
    [property: Description("The same for the three equal lengths of the traced canal from orifice to end; a third is null when it held no filling before.")] ThirdsDocument Thirds,
    [property: Description("Rows [mm from the canal's end, dx, dy]: place on the film after minus place on the film before, in pixels; the first number is in pixels when the film has no scale.")] IReadOnlyList<double[]> DisplacementPx,
    [property: Description("Smallest patch of residue that this pair could show, in mm²; null without a scale.")] double? DetectionLimitMm2,
    [property: Description("Share, 0 to 1, of the branch's filling that lies over another branch's on the film before.")] double OverlapShare);

/// <summary>The three thirds.</summary>
/// <param name="Coronal">Next to the crown.</param>
/// <param name="Middle">Between.</param>
/// <param name="Apical">Next to the end.</param>
public sealed record ThirdsDocument(ThirdDocument? Coronal, ThirdDocument? Middle, ThirdDocument? Apical);

/// <summary>One third.</summary>
/// <param name="AreaPercent">Area left.</param>
/// <param name="AreaInterval">Its interval.</param>
/// <param name="MassPercent">Mass left.</param>
/// <param name="MassInterval">Its interval.</param>
public sealed record ThirdDocument(
    [property: Description("As area_percent of the branch.")] double? AreaPercent,
    [property: Description("Its 95 % interval [low, high].")] double[]? AreaInterval,
    [property: Description("As mass_percent of the branch.")] double? MassPercent,
    [property: Description("Its 95 % interval [low, high].")] double[]? MassInterval);
