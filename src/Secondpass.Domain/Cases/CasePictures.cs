namespace Secondpass.Domain.Cases;

/// <summary>A film was attached.</summary>
/// <param name="Film">The film.</param>
public sealed record FilmAttached(CaseFilm Film) : CaseEvent;

/// <summary>The day on which a film of the case was taken was entered, in the place of what its file says: the last one holds.</summary>
/// <param name="FilmSha256">SHA-256 of the film.</param>
/// <param name="Day">The day; null takes back what was entered before.</param>
public sealed record FilmDated(string FilmSha256, DateOnly? Day) : CaseEvent;

/// <summary>A photograph was attached.</summary>
/// <param name="Photograph">The photograph.</param>
public sealed record PhotographAttached(Photograph Photograph) : CaseEvent;

/// <summary>What is left was read off two films of the case.</summary>
/// <param name="Result">The kept comparison.</param>
public sealed record ComparisonAttached(CaseComparison Result) : CaseEvent;

/// <summary>Canals were measured on a film: the last marks on that film hold.</summary>
/// <param name="Film">The marks.</param>
public sealed record FilmMeasured(MeasuredMarks Film) : CaseEvent;

/// <summary>When in the story a film was taken.</summary>
public enum FilmMoment
{
    /// <summary>Before treatment.</summary>
    Before,

    /// <summary>During removal.</summary>
    During,

    /// <summary>After the new filling.</summary>
    After,

    /// <summary>At recall.</summary>
    Recall,
}

/// <summary>From where the tube was aimed, for the parallax rule.</summary>
public enum TubeShift
{
    /// <summary>Straight.</summary>
    Straight,

    /// <summary>Tube moved mesially.</summary>
    Mesial,

    /// <summary>Tube moved distally.</summary>
    Distal,
}

/// <summary>A film of the case; its bytes are stored under the hash.</summary>
/// <param name="Sha256">SHA-256 of the original bytes.</param>
/// <param name="Moment">When it was taken.</param>
/// <param name="Shift">From where.</param>
/// <param name="PixelSpacingMillimetres">Scale entered or measured for it, in mm per pixel; null: the file's own.</param>
public sealed record CaseFilm(string Sha256, FilmMoment Moment, TubeShift Shift, double? PixelSpacingMillimetres)
{
    /// <summary>Where it came from; null when that was not noted.</summary>
    public FilmOrigin? Origin { get; init; }

    /// <summary>The day on which it was taken as somebody entered it; null where nobody did.</summary>
    public DateOnly? DayEntered { get; init; }

    /// <summary>When it was taken: the day that was entered, else what its file says, midnight where only the day is known; null when neither says it.</summary>
    public DateTime? Taken => DayEntered?.ToDateTime(TimeOnly.MinValue) ?? Origin?.Stated.TakenAt;
}

/// <summary>What was marked on a film of the case; what was measured from it stands in the canals.</summary>
/// <param name="FilmSha256">SHA-256 of the film.</param>
/// <param name="CaseDocument">The marks, as the JSON document of the command line.</param>
public sealed record MeasuredMarks(string FilmSha256, string CaseDocument);

/// <summary>A photograph in colour: looked at, never measured.</summary>
/// <param name="File">The file.</param>
/// <param name="Caption">What it shows, in words.</param>
/// <param name="Canal">The canal it belongs to, or null.</param>
public sealed record Photograph(AttachedFile File, string Caption, string? Canal);

/// <summary>A comparison that was kept with the case.</summary>
/// <param name="BeforeSha256">The film before.</param>
/// <param name="AfterSha256">The film after.</param>
/// <param name="CaseDocument">What was entered, as the JSON document of the command line.</param>
/// <param name="ComparisonDocument">What came out, as the JSON document of the command line.</param>
/// <param name="SheetSha256">The record sheet made then.</param>
public sealed record CaseComparison(string BeforeSha256, string AfterSha256, string CaseDocument, string ComparisonDocument, string SheetSha256);
