using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;

namespace Secondpass.Job.Documents;

/// <summary>What a command starts from besides the films: the tooth, the scale and the canals' marks on the film before.</summary>
/// <param name="Schema">Always 1.</param>
/// <param name="Tooth">The tooth after ISO 3950.</param>
/// <param name="PixelSpacingMm">Size of a pixel of the film before in mm; beats the file's own.</param>
/// <param name="AfterSpacingMm">Size of a pixel of the film after in mm, where it is known to differ.</param>
/// <param name="AfterState">What stands in the canals on the film after.</param>
/// <param name="Canals">The canals.</param>
/// <param name="LandmarksPx">Marks seen on both films.</param>
[Description("What measure and compare start from besides the films: the tooth, the scale and the canals as marked on the film before.")]
public sealed record CaseDocument(
    [property: Description("Always 1."), AllowedValues(1)] int Schema,
    [property: Description("The tooth after ISO 3950, two digits, such as \"16\". Null: not said."), RegularExpression(@"^\s*([1-4][1-8]|[5-8][1-5])\s*$")] string? Tooth,
    [property: Description("Size of a pixel of the film before, in mm. Beats the file's own scale, with a notice. Null: the file's own."), Range(Calibration.SmallestMillimetresPerPixel, Calibration.LargestMillimetresPerPixel)] double? PixelSpacingMm,
    [property: Description("Size of a pixel of the film after, in mm, where it is known to differ. Null: found from the films."), Range(Calibration.SmallestMillimetresPerPixel, Calibration.LargestMillimetresPerPixel)] double? AfterSpacingMm,
    [property: Description("What stands in the canals on the film after: removed, instrument_in, dressing or refilled. Asked, never guessed: compare needs it, measure does not."), Words(typeof(AfterState))] string? AfterState,
    [property: Description("The canals, marked on the film before; at least one."), MinLength(1)] IReadOnlyList<CanalDocument> Canals,
    [property: Description("Things marked on both films, to help them find each other: none, or at least two rows [x, y on the film before, x, y on the film after], in pixels."), Columns("x on the film before, pixels", "y on the film before, pixels", "x on the film after, pixels", "y on the film after, pixels")] IReadOnlyList<double[]>? LandmarksPx = null);

/// <summary>One canal branch as marked.</summary>
/// <param name="Name">Its name.</param>
/// <param name="TracePx">Marks from orifice to end.</param>
/// <param name="Pin">How strictly the path keeps to the marks between the ends.</param>
/// <param name="AfterState">What stands in this branch on the film after, where it differs from the case's.</param>
/// <param name="Branches">Branches that leave it.</param>
/// <param name="HardPx">Marks that the path goes through itself.</param>
[Description("One canal branch as marked.")]
public sealed record CanalDocument(
    [property: Description("Anatomical name, unique in the tooth, such as MB1."), Length(1, CanalDocument.LongestName)] string Name,
    [property: Description("At least two marks [x, y] in pixels of the film before, in order from orifice to end; a branch starts at a point of its trunk."), MinLength(2), Columns("x, pixels", "y, pixels")] IReadOnlyList<double[]> TracePx,
    [property: Description("soft (default): the path may leave a mark by up to 8 pixels for a better place; hard: it goes through the marks."), Words(typeof(PinStrength))] string? Pin,
    [property: Description("What stands in this branch on the film after, where it differs from the case's."), Words(typeof(AfterState))] string? AfterState,
    [property: Description("Branches that leave this one; same shape.")] IReadOnlyList<CanalDocument>? Branches,
    [property: Description("Those of trace_px, repeated, that the path goes through itself whatever pin says."), Columns("x, pixels", "y, pixels")] IReadOnlyList<double[]>? HardPx = null)
{
    /// <summary>The longest name taken, in characters: it has to fit a column of a table.</summary>
    public const int LongestName = 40;
}
