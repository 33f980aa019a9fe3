using System.Globalization;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Films;

namespace Secondpass.Exchange.Wording;

/// <summary>Says in words where filling is seen that the film before shows empty.</summary>
public static class MovedWords
{
    /// <summary>What may look like it, said once.</summary>
    public const string MayBe = "It may be filling that was moved, sealer, paste or debris: a film doesn't tell them apart. It is not counted in what is left.";

    /// <summary>One patch, with its size and place.</summary>
    /// <param name="moved">The patch.</param>
    /// <param name="branch">The branch that it is told with.</param>
    /// <param name="scale">Scale of the film before; null when unknown.</param>
    /// <returns>Such as "MB1: new material beyond the end of the canal, 0.3–1.3 mm from it, 0.48 mm²".</returns>
    public static string Of(MovedMaterial moved, TracedBranch branch, Calibration? scale)
    {
        ArgumentNullException.ThrowIfNull(moved);
        ArgumentNullException.ThrowIfNull(branch);
        var end = branch.Path.LengthPixels;
        var (near, far) = moved.Where == MovedTo.BeyondEnd
            ? (moved.FromPixels - end, moved.ToPixels - end)
            : (end - moved.ToPixels, end - moved.FromPixels);
        var where = moved.Where switch
        {
            MovedTo.BeyondEnd => "beyond the end of the canal",
            MovedTo.Deeper => "between the old filling and the end of the canal",
            MovedTo.HigherUp => "higher up in the canal than the old filling",
            _ => throw new ArgumentOutOfRangeException(nameof(moved), moved.Where, "Not a place of moved material."),
        };
        return scale is null
            ? string.Create(CultureInfo.InvariantCulture, $"{moved.Branch}: new material {where}, {Math.Max(0, near):0}–{far:0} pixels from the end, {moved.AreaSquarePixels:0} square pixels")
            : string.Create(CultureInfo.InvariantCulture, $"{moved.Branch}: new material {where}, {Math.Max(0, near) * scale.MillimetresPerPixel:0.0}–{far * scale.MillimetresPerPixel:0.0} mm from the end, {moved.AreaSquarePixels * scale.MillimetresPerPixel * scale.MillimetresPerPixel:0.00} mm²");
    }

    /// <summary>What was looked for where nothing is reported.</summary>
    public static string NoneSeen { get; } = string.Create(
        CultureInfo.InvariantCulture,
        $"No new material is seen up to {MovedMaterialLimits.LookedForBeyondEnd.Value:0} mm beyond the canals' ends; pieces under about {MovedMaterialLimits.MostlyFound.Value:0.0} mm² are often missed. Inside the canals, above and below the old filling, even larger ones are: none seen says little there.");
}
