using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using Secondpass.Domain;
using Secondpass.Domain.Films;
using Secondpass.Exchange.Wording;
using Secondpass.Job.Meaning;

namespace Secondpass.Job.Documents;

/// <summary>The answer of <c>compare</c>.</summary>
/// <param name="Schema">Always 1.</param>
/// <param name="Registration">How the films lie over each other.</param>
/// <param name="Canals">One entry per branch, parents before children; empty when the films can't be compared.</param>
/// <param name="Notices">What the dentist should know.</param>
/// <param name="Moved">New material outside the old filling.</param>
[Description("What compare answers: how much of the old filling is left in each canal branch, as seen on two films.")]
public sealed record CompareDocument(
    [property: Description("Always 1."), AllowedValues(1)] int Schema,
    [property: Description("How the film after was laid over the film before.")] RegistrationDocument Registration,
    [property: Description("One entry per branch, parents before children; empty when the films can't be compared.")] IReadOnlyList<ComparedCanalDocument> Canals,
    [property: Description("What the dentist should know about this pair, in sentences.")] IReadOnlyList<string> Notices,
    [property: Description("New radiopaque patches outside the old filling, the largest first; empty where none is seen. Null where the films can't be compared, and in results kept before it was looked for.")] IReadOnlyList<MovedDocument>? Moved = null)
{
    /// <summary>The document of a comparison.</summary>
    /// <param name="comparison">The comparison.</param>
    /// <param name="scale">Scale of the film before; null leaves the members in mm null.</param>
    /// <param name="notices">What the dentist should know about the films before the comparison's own notices.</param>
    /// <param name="passes">Whether another pass is worth it, by branch; null where it was not asked.</param>
    public static CompareDocument From(Comparison comparison, Calibration? scale, IReadOnlyList<string> notices, IReadOnlyList<CanalNextPass>? passes = null)
    {
        ArgumentNullException.ThrowIfNull(comparison);
        return new CompareDocument(
            1,
            new RegistrationDocument(
                true,
                null,
                null,
                [.. comparison.Registration.AfterToBefore.Select(Rounded.MatrixPart)],
                Rounded.Pixels(comparison.Registration.SelfRmsPixels)),
            [.. comparison.Branches.Select(branch => ComparedCanalDocument.From(branch, scale, passes is null ? null : [.. passes.Where(pass => pass.Canal == branch.Branch.Name)]))],
            [.. notices, .. comparison.Notices],
            [.. comparison.Moved.Select(moved => MovedDocument.From(moved, comparison.Branches.First(branch => branch.Branch.Name == moved.Branch).Branch, scale))]);
    }

    /// <summary>The document of two films that can't be compared.</summary>
    /// <param name="refusal">Why not.</param>
    /// <param name="notices">What the dentist should know about the films.</param>
    public static CompareDocument Refused(Refusal refusal, IReadOnlyList<string> notices)
    {
        ArgumentNullException.ThrowIfNull(refusal);
        return new CompareDocument(1, new RegistrationDocument(false, refusal.Reason, refusal.Remedy, null, null), [], notices);
    }
}

/// <summary>The registration.</summary>
/// <param name="Ok">Whether the films could be laid over each other.</param>
/// <param name="Reason">Why not.</param>
/// <param name="Remedy">What to do.</param>
/// <param name="Matrix">The matrix.</param>
/// <param name="SelfRmsPx">Its own check.</param>
[Description("How the film after lies over the film before.")]
public sealed record RegistrationDocument(
    [property: Description("Whether the films could be laid over each other.")] bool Ok,
    [property: Description("Why not, in a sentence; null when ok.")] string? Reason,
    [property: Description("What to do about it, in a sentence; null when ok.")] string? Remedy,
    [property: Description("Nine numbers, row by row, of the matrix that takes [x, y, 1] of the film after to the film before; the last is 1; null when not ok. The global part only: displacement_px holds what was found along each canal."), Length(9, 9)] IReadOnlyList<double>? Matrix,
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
/// <param name="NextPass">Is another pass worth it.</param>
[Description("One canal branch compared.")]
public sealed record ComparedCanalDocument(
    [property: Description("The branch's name.")] string Name,
    [property: Description("ok or refused."), AllowedValues("ok", "refused")] string Status,
    [property: Description("Why there is no result, in a sentence; null when ok.")] string? Reason,
    [property: Description("Projected area of residue at least 0.10 mm thick along the ray, in percent of the area that the filling held at least as thick before; unclipped; null when refused or not known.")] double? AreaPercent,
    [property: Description("Its 95 % interval [low, high]."), Columns("low", "high")] double[]? AreaInterval,
    [property: Description("Radiopaque mass left in percent of before; unclipped; null when refused or not known.")] double? MassPercent,
    [property: Description("Its 95 % interval [low, high]."), Columns("low", "high")] double[]? MassInterval,
    [property: Description("The same for the three equal lengths of the traced canal from orifice to end; a third is null when it held no filling before.")] ThirdsDocument Thirds,
    [property: Description("Rows [mm from the canal's end, dx, dy]: place on the film after minus place on the film before, in pixels; the first number is in pixels when the film has no scale; empty when refused."), Columns("mm from the canal's end", "dx, pixels", "dy, pixels")] IReadOnlyList<double[]> DisplacementPx,
    [property: Description("Smallest patch of residue that this pair could show, in mm²; null without a scale or when refused.")] double? DetectionLimitMm2,
    [property: Description("Share, 0 to 1, of the branch's filling that lies over another branch's on the film before.")] double OverlapShare,
    [property: Description("Whether another pass is worth it: one entry for each place where filling is seen, the largest first, which is the next step; one entry without a place where none is seen, a dressing is in the canal, or too little is known; empty when there is no result. Null in results kept before this was answered.")] IReadOnlyList<PassPlaceDocument>? NextPass = null)
{
    /// <summary>The entry of one branch.</summary>
    /// <param name="residue">The branch's result or refusal.</param>
    /// <param name="scale">Scale of the film before; null leaves the members in mm null and levels in pixels.</param>
    /// <param name="passes">Whether another pass is worth it: one, or none where there is no result; null where it was not asked.</param>
    public static ComparedCanalDocument From(BranchResidue residue, Calibration? scale, IReadOnlyList<CanalNextPass>? passes)
    {
        ArgumentNullException.ThrowIfNull(residue);
        var refused = residue.Refused is not null;
        var millimetres = scale?.MillimetresPerPixel;
        var end = residue.Branch.Path.LengthPixels;
        var whole = residue.Whole is null ? null : ThirdDocument.From(residue.Whole);
        return new ComparedCanalDocument(
            residue.Branch.Name,
            refused ? "refused" : "ok",
            residue.Refused?.Reason,
            whole?.AreaPercent,
            whole?.AreaInterval,
            whole?.MassPercent,
            whole?.MassInterval,
            new ThirdsDocument(Third(CanalThird.Coronal), Third(CanalThird.Middle), Third(CanalThird.Apical)),
            [.. residue.Displacements.Select(Row)],
            refused || millimetres is not { } size ? null : Rounded.SquareMillimetres(residue.DetectionLimitSquarePixels * size * size),
            Rounded.Share(residue.OverlapShare),
            passes?.SelectMany(pass => pass.Others.Prepend(pass.Next)).Select(PassPlaceDocument.From).ToList());

        ThirdDocument? Third(CanalThird third) =>
            residue.Thirds.TryGetValue(third, out var share) ? ThirdDocument.From(share) : null;

        double[] Row(Displacement place)
        {
            var fromEnd = end - place.LevelPixels;
            return
            [
                millimetres is { } size ? Rounded.Millimetres(fromEnd * size) : Rounded.Pixels(fromEnd),
                Rounded.Pixels(place.Dx),
                Rounded.Pixels(place.Dy),
            ];
        }
    }
}

/// <summary>New material outside the old filling.</summary>
/// <param name="Canal">The branch.</param>
/// <param name="Where">Where it lies.</param>
/// <param name="Words">In words.</param>
/// <param name="AtPx">Its middle.</param>
/// <param name="FromEndMm">Its levels.</param>
/// <param name="AreaMm2">Its area.</param>
/// <param name="ThicknessMm">Its thickness.</param>
[Description("A new radiopaque patch where the film before shows no filling. What it is of, a film doesn't say.")]
public sealed record MovedDocument(
    [property: Description("The branch that it lies nearest to.")] string Canal,
    [property: Description("beyond_end, deeper (between the old filling and the canal's end) or higher_up (higher up in the canal than the old filling)."), Words(typeof(MovedTo))] string Where,
    [property: Description("Size and place in words.")] string Words,
    [property: Description("Its middle [x, y] in pixels of the film before."), Length(2, 2)] double[] AtPx,
    [property: Description("Its levels from the canal's end [deep, high], in mm, negative beyond the end; null without a scale."), Columns("deep end, mm from the canal's end", "high end, mm from the canal's end")] double[]? FromEndMm,
    [property: Description("Its projected area in mm²; null without a scale.")] double? AreaMm2,
    [property: Description("Thickness along the ray where it is thickest, in mm, were it of the old filling; null without a scale.")] double? ThicknessMm)
{
    /// <summary>The entry of a patch.</summary>
    public static MovedDocument From(MovedMaterial moved, TracedBranch branch, Calibration? scale)
    {
        ArgumentNullException.ThrowIfNull(moved);
        ArgumentNullException.ThrowIfNull(branch);
        var millimetres = scale?.MillimetresPerPixel;
        var end = branch.Path.LengthPixels;
        return new MovedDocument(
            moved.Branch,
            EnumWords.Of(moved.Where),
            MovedWords.Of(moved, branch, scale),
            [Rounded.Pixels(moved.Middle.X), Rounded.Pixels(moved.Middle.Y)],
            millimetres is { } size ? [Rounded.Millimetres((end - moved.ToPixels) * size), Rounded.Millimetres((end - moved.FromPixels) * size)] : null,
            millimetres is { } side ? Rounded.SquareMillimetres(moved.AreaSquarePixels * side * side) : null,
            millimetres is { } each ? Rounded.Millimetres(moved.ThicknessPixels * each) : null);
    }
}

/// <summary>One place where filling is seen, and what reaches it.</summary>
/// <param name="Answer">The answer.</param>
/// <param name="Words">In words.</param>
/// <param name="Place">The place.</param>
/// <param name="FromEndMm">Its levels.</param>
/// <param name="AreaMm2">Its area.</param>
/// <param name="Instrument">The instrument.</param>
/// <param name="StopFromEndMm">Its stop.</param>
/// <param name="Why">What it rests on.</param>
[Description("A place where filling is seen, and which instrument of the tray reaches it.")]
public sealed record PassPlaceDocument(
    [property: Description("reaches: an instrument of the tray reaches the place and touches the wall there; reaches_pre_curved: only a pre-curved ultrasonic file does; reaches_part: one reaches a part of it, none the rest; none_reaches; blind: no place is seen on this film, another pass would be blind; may_be_dressing: what is seen may be a dressing; not_known."), Words(typeof(PassAnswer))] string Answer,
    [property: Description("The answer in words.")] string Words,
    [property: Description("The place in words; null where none is seen.")] string? Place,
    [property: Description("Its levels from the canal's end [deep, high], in mm, negative beyond the end; null where none is seen or without a scale."), Columns("deep end, mm from the canal's end", "high end, mm from the canal's end")] double[]? FromEndMm,
    [property: Description("Its projected area in mm²; null where none is seen or without a scale.")] double? AreaMm2,
    [property: Description("The code of the instrument named; null for none.")] string? Instrument,
    [property: Description("Its stop, in mm short of the canal's end; null for none.")] double? StopFromEndMm,
    [property: Description("What the answer rests on, in sentences.")] IReadOnlyList<string> Why)
{
    /// <summary>The entry of a place.</summary>
    public static PassPlaceDocument From(PlaceAnswer place)
    {
        ArgumentNullException.ThrowIfNull(place);
        return new PassPlaceDocument(
            EnumWords.Of(place.Answer),
            place.Words,
            place.Place,
            place.FromEndMillimetres is { } ends ? Rounded.Ends(ends, Rounded.Millimetres) : null,
            place.AreaSquareMillimetres is { } area ? Rounded.SquareMillimetres(area) : null,
            place.Instrument,
            place.StopFromEnd is { } stop ? Rounded.Millimetres(stop.Value) : null,
            place.Why);
    }
}

/// <summary>The three thirds.</summary>
/// <param name="Coronal">Next to the crown.</param>
/// <param name="Middle">Between.</param>
/// <param name="Apical">Next to the end.</param>
[Description("The three equal lengths of the traced canal.")]
public sealed record ThirdsDocument(
    [property: Description("Next to the crown; null when it held no filling before.")] ThirdDocument? Coronal,
    [property: Description("Between the two others; null when it held no filling before.")] ThirdDocument? Middle,
    [property: Description("Next to the canal's end; null when it held no filling before.")] ThirdDocument? Apical);

/// <summary>One third.</summary>
/// <param name="AreaPercent">Area left.</param>
/// <param name="AreaInterval">Its interval.</param>
/// <param name="MassPercent">Mass left.</param>
/// <param name="MassInterval">Its interval.</param>
[Description("One third of a canal.")]
public sealed record ThirdDocument(
    [property: Description("As area_percent of the branch.")] double? AreaPercent,
    [property: Description("Its 95 % interval [low, high]."), Columns("low", "high")] double[]? AreaInterval,
    [property: Description("As mass_percent of the branch.")] double? MassPercent,
    [property: Description("Its 95 % interval [low, high]."), Columns("low", "high")] double[]? MassInterval)
{
    /// <summary>The entry of a share of what is left.</summary>
    public static ThirdDocument From(ResidueShare share)
    {
        ArgumentNullException.ThrowIfNull(share);
        return new ThirdDocument(
            share.AreaPercent is { } area ? Rounded.Percent(area.Value) : null,
            share.AreaPercent is { } areaEnds ? Rounded.Ends(areaEnds.Interval, Rounded.Percent) : null,
            share.MassPercent is { } mass ? Rounded.Percent(mass.Value) : null,
            share.MassPercent is { } massEnds ? Rounded.Ends(massEnds.Interval, Rounded.Percent) : null);
    }
}
