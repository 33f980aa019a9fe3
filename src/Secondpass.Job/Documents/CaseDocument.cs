using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
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
/// <param name="Filling">What the canals were filled with.</param>
/// <param name="Crown">The crown.</param>
/// <param name="Core">The core.</param>
/// <param name="Post">The post.</param>
/// <param name="ResinFollows">Whether resin will be bonded in the root.</param>
/// <param name="Clinic">The clinic's instruments, sequences and limits.</param>
/// <param name="KnownLength">An object of known length on the film before.</param>
[Description("What measure, compare and plan start from besides the films: the tooth, the scale, the canals as marked on the film before, and for plan what is known of them.")]
public sealed record CaseDocument(
    [property: Description("Always 1."), AllowedValues(1)] int Schema,
    [property: Description("The tooth after ISO 3950, two digits, such as \"16\". Null: not said."), RegularExpression(@"^\s*([1-4][1-8]|[5-8][1-5])\s*$")] string? Tooth,
    [property: Description("Size of a pixel of the film before, in mm. Beats the file's own scale, with a notice. Null: the file's own."), Range(Calibration.SmallestMillimetresPerPixel, Calibration.LargestMillimetresPerPixel)] double? PixelSpacingMm,
    [property: Description("Size of a pixel of the film after, in mm, where it is known to differ. Null: found from the films."), Range(Calibration.SmallestMillimetresPerPixel, Calibration.LargestMillimetresPerPixel)] double? AfterSpacingMm,
    [property: Description("What stands in the canals on the film after: removed, instrument_in, dressing or refilled. Asked, never guessed: compare needs it, measure does not."), Words(typeof(AfterState))] string? AfterState,
    [property: Description("The canals, marked on the film before; at least one."), MinLength(1)] IReadOnlyList<CanalDocument> Canals,
    [property: Description("Things marked on both films, to help them find each other: none, or at least two rows [x, y on the film before, x, y on the film after], in pixels."), Columns("x on the film before, pixels", "y on the film before, pixels", "x on the film after, pixels", "y on the film after, pixels")] IReadOnlyList<double[]>? LandmarksPx = null,
    [property: Description("For plan: what the canals were filled with: unknown (default), gutta_percha, single_cone, carrier_based, silver_point, hard_paste or soft_paste."), Words(typeof(OldFilling))] string? Filling = null,
    [property: Description("For plan: the crown, in words. Null: none."), Length(1, CaseDocument.LongestWords)] string? Crown = null,
    [property: Description("For plan: the core, in words. Null: none."), Length(1, CaseDocument.LongestWords)] string? Core = null,
    [property: Description("For plan: the post, in words. Null: none."), Length(1, CaseDocument.LongestWords)] string? Post = null,
    [property: Description("For plan: true where resin will be bonded in the root afterwards: then no solvent.")] bool? ResinFollows = null,
    [property: Description("For plan: the clinic's own instruments, sequences and limits, beside the shipped ones.")] ClinicDocument? Clinic = null,
    [property: Description("An object of known length on the film before, which gives it its scale instead of the film's own file; pixel_spacing_mm beats it, with a notice. Null: none.")] KnownLengthDocument? KnownLength = null)
{
    /// <summary>The longest text in words taken, in characters.</summary>
    public const int LongestWords = 120;
}

/// <summary>One canal branch as marked.</summary>
/// <param name="Name">Its name.</param>
/// <param name="TracePx">Marks from orifice to end.</param>
/// <param name="Pin">How strictly the path keeps to the marks between the ends.</param>
/// <param name="AfterState">What stands in this branch on the film after, where it differs from the case's.</param>
/// <param name="Branches">Branches that leave it.</param>
/// <param name="HardPx">Marks that the path goes through itself.</param>
/// <param name="Root">Its root.</param>
/// <param name="Intent">What is to be done with it.</param>
/// <param name="Filled">How its filling stands.</param>
/// <param name="FillEndMm">Where its filling ends.</param>
/// <param name="Obstacles">What stands in the way.</param>
/// <param name="Lengths">Lengths as read.</param>
/// <param name="Meets">Where it meets another canal.</param>
/// <param name="Walls">Walls read on a cone-beam scan.</param>
/// <param name="FillingWidth">Width of its filling.</param>
/// <param name="CanalWidth">Width of the canal.</param>
/// <param name="NoDeeperThanMm">The dentist's own stop.</param>
/// <param name="FinalSize">Planned final size.</param>
/// <param name="FinalTaper">Planned final taper.</param>
[Description("One canal branch as marked.")]
public sealed record CanalDocument(
    [property: Description("Anatomical name, unique in the tooth, such as MB1."), Length(1, CanalDocument.LongestName)] string Name,
    [property: Description("At least two marks [x, y] in pixels of the film before, in order from orifice to end; a branch starts at a point of its trunk."), MinLength(2), Columns("x, pixels", "y, pixels")] IReadOnlyList<double[]> TracePx,
    [property: Description("soft (default): the path may leave a mark by up to 8 pixels for a better place; hard: it goes through the marks."), Words(typeof(PinStrength))] string? Pin,
    [property: Description("What stands in this branch on the film after, where it differs from the case's."), Words(typeof(AfterState))] string? AfterState,
    [property: Description("Branches that leave this one; same shape.")] IReadOnlyList<CanalDocument>? Branches,
    [property: Description("Those of trace_px, repeated, that the path goes through itself whatever pin says."), Columns("x, pixels", "y, pixels")] IReadOnlyList<double[]>? HardPx = null,
    [property: Description("For plan: its root, such as MB. Null: as its name."), Length(1, CanalDocument.LongestName)] string? Root = null,
    [property: Description("For plan: retreat (default), leave_alone or look_for."), Words(typeof(CanalIntent))] string? Intent = null,
    [property: Description("For plan: not_judged (default), filled, short_of_end, beyond_end or unfilled. Null: judged by fill_end_mm where it is known."), Words(typeof(CanalFilling))] string? Filled = null,
    [property: Description("For plan: from the end of the filling to the end of the canal, in mm: short is positive, beyond is negative. Null: as the film shows it.")] double? FillEndMm = null,
    [property: Description("For plan: what stands in the way: ledge, separated_instrument, blockage, perforation, post."), Words(typeof(Obstacle))] IReadOnlyList<string>? Obstacles = null,
    [property: Description("For plan: lengths as read, each from a named reference point to a named end. A file_stop tells where an obstacle lies.")] IReadOnlyList<LengthDocument>? Lengths = null,
    [property: Description("For plan: where it leaves its trunk or joins another canal. Null: a branch leaves its trunk at a level that is not known.")] MeetingDocument? Meets = null,
    [property: Description("For plan: walls of dentine as read on a cone-beam scan.")] IReadOnlyList<WallDocument>? Walls = null,
    [property: Description("For plan: width of the filling, rows as measure answers them. Null: as the film shows it."), Columns("mm from the canal's end", "filling width, mm", "low end of its 95 % interval, mm", "high end, mm")] IReadOnlyList<double[]>? FillingWidth = null,
    [property: Description("For plan: width of the canal, rows as filling_width. Null: not measured; the filling's width stands for it."), Columns("mm from the canal's end", "canal width, mm", "low end of its 95 % interval, mm", "high end, mm")] IReadOnlyList<double[]>? CanalWidth = null,
    [property: Description("For plan: the dentist's own stop: no instrument deeper than this from the reference point, in mm. Null: none.")] double? NoDeeperThanMm = null,
    [property: Description("For plan: planned final size after ISO, such as 35. Null: not planned.")] double? FinalSize = null,
    [property: Description("For plan: planned final taper in mm per mm, such as 0.04; goes with final_size.")] double? FinalTaper = null)
{
    /// <summary>The longest name taken, in characters: it has to fit a column of a table.</summary>
    public const int LongestName = 40;
}
