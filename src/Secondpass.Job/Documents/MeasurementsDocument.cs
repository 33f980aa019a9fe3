using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Films;
using Secondpass.Exchange.Wording;

namespace Secondpass.Job.Documents;

/// <summary>Everything measured on the films of a case.</summary>
/// <param name="Schema">Always 1.</param>
/// <param name="Tooth">The tooth.</param>
/// <param name="Films">One entry per film.</param>
/// <param name="Changes">Lesions on more than one film.</param>
/// <param name="Cautions">What stands beside them.</param>
[Description("Everything measured on the films of a case: canals, and what was drawn by hand. It names no patient.")]
public sealed record MeasurementsDocument(
    [property: Description("Always 1."), AllowedValues(1)] int Schema,
    [property: Description("The tooth after ISO 3950.")] string Tooth,
    [property: Description("One entry per film of the case on which something is measured, in the order in which they were attached.")] IReadOnlyList<FilmMeasurementsDocument> Films,
    [property: Description("Lesions outlined under one name on more than one film, film after film.")] IReadOnlyList<LesionChangeDocument> Changes,
    [property: Description("What has to be said beside these figures, in sentences.")] IReadOnlyList<string> Cautions);

/// <summary>What was measured on one film.</summary>
/// <param name="FilmSha256">The film.</param>
/// <param name="Taken">When in the story it was taken.</param>
/// <param name="TakenOn">The day on which it was taken.</param>
/// <param name="TakenOnEntered">Whether somebody entered that day.</param>
/// <param name="Tube">From where.</param>
/// <param name="Scale">Its scale.</param>
/// <param name="Canals">Canals.</param>
/// <param name="CanalsWhyNone">Why marked canals were not measured.</param>
/// <param name="Drawn">What was drawn.</param>
[Description("What was measured on one film.")]
public sealed record FilmMeasurementsDocument(
    [property: Description("SHA-256 of the film's file.")] string FilmSha256,
    [property: Description("When in the story it was taken."), Words(typeof(FilmMoment))] string Taken,
    [property: Description("The day on which it was taken, as year-month-day, with the time where the film's file says it; null when it isn't known.")] string? TakenOn,
    [property: Description("Whether somebody entered that day; else the film's file says it.")] bool TakenOnEntered,
    [property: Description("From where the tube was aimed."), Words(typeof(TubeShift))] string Tube,
    [property: Description("The scale that it has now, with which its canals are measured; null: none.")] FilmScaleDocument? Scale,
    [property: Description("Its canals, measured anew from the marks that were kept.")] IReadOnlyList<MeasuredCanalDocument> Canals,
    [property: Description("Why the marked canals could not be measured; null when they were, or none is marked.")] string? CanalsWhyNone,
    [property: Description("What was drawn on it, as it was read then.")] IReadOnlyList<DrawnDocument> Drawn);

/// <summary>The scale of a film.</summary>
/// <param name="PixelSpacingMm">Size of a pixel.</param>
/// <param name="From">Where it comes from.</param>
/// <param name="WithinPercent">How uncertain it is.</param>
/// <param name="KnownLength">The object that it comes from.</param>
/// <param name="Means">What a length along it means.</param>
[Description("The scale of a film.")]
public sealed record FilmScaleDocument(
    [property: Description("Size of a pixel, in mm.")] double PixelSpacingMm,
    [property: Description("Where it comes from."), Words(typeof(CalibrationSource))] string From,
    [property: Description("Half of the 95 % interval that it leaves to a length, in percent of the length.")] double WithinPercent,
    [property: Description("The object of known length that it comes from, as a case file takes it; null where it comes from something else.")] KnownLengthDocument? KnownLength,
    [property: Description("What a length along this scale means and what it presumes, in the sentences that the pages show; empty where there is nothing to say.")] IReadOnlyList<string> Means)
{
    /// <summary>The entry of a scale; null for none.</summary>
    /// <param name="scale">The scale.</param>
    /// <param name="means">What a length along it means.</param>
    public static FilmScaleDocument? Of(Calibration? scale, IReadOnlyList<string> means) => scale is null
        ? null
        : new FilmScaleDocument(
            scale.MillimetresPerPixel,
            EnumWords.Of(scale.Source),
            Rounded.Percent(196 * scale.DeviationShare),
            scale.Known is { } known ? KnownLengthDocument.Of(known) : null,
            means);
}

/// <summary>One thing drawn on a film.</summary>
/// <param name="Number">Its number in the case.</param>
/// <param name="Name">Its name.</param>
/// <param name="Kind">What it is.</param>
/// <param name="PointsPx">Its points.</param>
/// <param name="TrueLengthMm">The true length of an instrument.</param>
/// <param name="PixelSpacingMm">The scale used.</param>
/// <param name="ScaleFrom">Where the scale came from.</param>
/// <param name="ScaleReplaced">Whether its film has another scale by now.</param>
/// <param name="Figures">The figures.</param>
/// <param name="Corrected">The length corrected for foreshortening.</param>
/// <param name="KeptUtc">When it was kept.</param>
[Description("One thing drawn on a film.")]
public sealed record DrawnDocument(
    [property: Description("Its number in the case, from 1; never used twice.")] int Number,
    [property: Description("Its name.")] string Name,
    [property: Description("What it is."), Words(typeof(DrawnKind))] string Kind,
    [property: Description("Its points in pixels of the film, in the order in which they were set."), Columns("x, pixels", "y, pixels")] IReadOnlyList<double[]> PointsPx,
    [property: Description("The true length of a known length, in mm; null for everything else.")] double? TrueLengthMm,
    [property: Description("Size of a pixel that it was measured with, in mm; null where no scale was needed.")] double? PixelSpacingMm,
    [property: Description("Where that scale came from; null where no scale was needed."), Words(typeof(CalibrationSource))] string? ScaleFrom,
    [property: Description("Whether its film has another scale by now than the one that it was measured with.")] bool ScaleReplaced,
    [property: Description("The figures.")] IReadOnlyList<FigureDocument> Figures,
    [property: Description("For a length: what it would be, were it foreshortened as a known length on the same film that runs the same way.")] IReadOnlyList<CorrectedLengthDocument> Corrected,
    [property: Description("When it was kept as it is now, UTC.")] string? KeptUtc);

/// <summary>One figure of something drawn.</summary>
/// <param name="Quantity">What it is.</param>
/// <param name="Unit">Its unit.</param>
/// <param name="Value">The figure.</param>
/// <param name="Interval">Its interval.</param>
/// <param name="FromClicks">What clicks leave open.</param>
/// <param name="FromScale">What the scale leaves open.</param>
[Description("One figure of something drawn.")]
public sealed record FigureDocument(
    [property: Description("What it is."), Words(typeof(DrawnQuantity))] string Quantity,
    [property: Description("Its unit: mm, mm2, degrees or 1.")] string Unit,
    [property: Description("The figure, in its unit.")] double Value,
    [property: Description("Its 95 % interval."), Columns("low", "high")] double[] Interval,
    [property: Description("Half of the interval that is owed to the clicks alone.")] double FromClicks,
    [property: Description("Half of the interval that is owed to the scale alone, the reading of a stop included.")] double FromScale);

/// <summary>A length corrected for foreshortening.</summary>
/// <param name="By">The instrument.</param>
/// <param name="LengthMm">The length.</param>
/// <param name="IntervalMm">Its interval.</param>
/// <param name="LostMm">What the film showed too little.</param>
/// <param name="WiderMm">What it cost in certainty.</param>
[Description("A length corrected for foreshortening.")]
public sealed record CorrectedLengthDocument(
    [property: Description("Name of the known length that it was corrected by.")] string By,
    [property: Description("The corrected length, in mm.")] double LengthMm,
    [property: Description("Its 95 % interval, in mm."), Columns("low, mm", "high, mm")] double[] IntervalMm,
    [property: Description("How much the film showed too little, in mm.")] double LostMm,
    [property: Description("How much farther the interval reaches to either side than that of the length as seen, in mm.")] double WiderMm)
{
    /// <summary>The entry of a corrected length.</summary>
    public static CorrectedLengthDocument From(CorrectedLength corrected, string by)
    {
        ArgumentNullException.ThrowIfNull(corrected);
        return new CorrectedLengthDocument(
            by,
            Rounded.Millimetres(corrected.LengthMillimetres.Value),
            Rounded.Ends(corrected.LengthMillimetres.Interval, Rounded.Millimetres),
            Rounded.Millimetres(corrected.Lost.Value),
            Rounded.Millimetres(corrected.Wider.Value));
    }
}

/// <summary>How a lesion changed from one film to the next.</summary>
/// <param name="Name">Its name.</param>
/// <param name="BeforeSha256">The earlier film.</param>
/// <param name="AfterSha256">The later film.</param>
/// <param name="OrderKnown">Whether it is known which is earlier.</param>
/// <param name="WhyNoChange">Why no change is given.</param>
/// <param name="AreaMm2">Area before and after.</param>
/// <param name="AreaChangeMm2">Its change.</param>
/// <param name="AreaChangeIntervalMm2">The interval of the change.</param>
/// <param name="AreaChangeTold">Whether it can be told.</param>
/// <param name="DiameterMm">Largest diameter before and after.</param>
/// <param name="DiameterChangeMm">Its change.</param>
/// <param name="DiameterChangeIntervalMm">The interval of the change.</param>
/// <param name="DiameterChangeTold">Whether it can be told.</param>
[Description("How much larger or smaller a lesion is outlined on a later film. Nothing is said of healing.")]
public sealed record LesionChangeDocument(
    [property: Description("The lesion's name.")] string Name,
    [property: Description("SHA-256 of the earlier film's file; where order_known is false, of one of the two.")] string BeforeSha256,
    [property: Description("SHA-256 of the later film's file; where order_known is false, of the other.")] string AfterSha256,
    [property: Description("Whether it is known which film is earlier: by their dates, else by when in the story they were taken.")] bool OrderKnown,
    [property: Description("Why no change is given, in a sentence; null when it is.")] string? WhyNoChange,
    [property: Description("Its area."), Columns("before, mm²", "after, mm²")] double[] AreaMm2,
    [property: Description("Change of its area in mm², smaller is negative; null when none is given.")] double? AreaChangeMm2,
    [property: Description("95 % interval of that change; null when none is given."), Columns("low, mm²", "high, mm²")] double[]? AreaChangeIntervalMm2,
    [property: Description("Whether that change can be told: it is given, and the interval doesn't hold 0.")] bool AreaChangeTold,
    [property: Description("Its largest diameter."), Columns("before, mm", "after, mm")] double[] DiameterMm,
    [property: Description("Change of its largest diameter in mm, smaller is negative; null when none is given.")] double? DiameterChangeMm,
    [property: Description("95 % interval of that change; null when none is given."), Columns("low, mm", "high, mm")] double[]? DiameterChangeIntervalMm,
    [property: Description("Whether that change can be told.")] bool DiameterChangeTold)
{
    /// <summary>The entry of a change.</summary>
    /// <param name="change">The change.</param>
    /// <param name="hasOtherScale">Whether one of the two was measured with another scale than its film has now.</param>
    public static LesionChangeDocument From(LesionChange change, bool hasOtherScale)
    {
        ArgumentNullException.ThrowIfNull(change);
        var whyNone = ChangeWords.WhyNone(change, hasOtherScale);
        var isGiven = whyNone is null;
        return new LesionChangeDocument(
            change.After.Name,
            change.Before.FilmSha256,
            change.After.FilmSha256,
            change.IsOrderKnown,
            whyNone,
            Both(DrawnQuantity.Area, Rounded.SquareMillimetres),
            isGiven ? Rounded.SquareMillimetres(change.AreaSquareMillimetres.Value) : null,
            isGiven ? Rounded.Ends(change.AreaSquareMillimetres.Interval, Rounded.SquareMillimetres) : null,
            isGiven && change.TellsArea,
            Both(DrawnQuantity.LargestDiameter, Rounded.Millimetres),
            isGiven ? Rounded.Millimetres(change.DiameterMillimetres.Value) : null,
            isGiven ? Rounded.Ends(change.DiameterMillimetres.Interval, Rounded.Millimetres) : null,
            isGiven && change.TellsDiameter);

        double[] Both(DrawnQuantity quantity, Func<double, double> round) =>
            [round(change.Before.Figure(quantity)!.Value.Value), round(change.After.Figure(quantity)!.Value.Value)];
    }
}
