using Secondpass.Domain.Quantities;

namespace Secondpass.Domain.Films;

/// <summary>What is drawn on a film by hand.</summary>
public enum DrawnKind
{
    /// <summary>A straight length between two points.</summary>
    Length,

    /// <summary>An angle of three points, the second its corner.</summary>
    Angle,

    /// <summary>The angle between two lines of two points each.</summary>
    AngleOfLines,

    /// <summary>The outline of a lesion: a closed curve through its points.</summary>
    Lesion,

    /// <summary>An instrument whose true length is known, from its tip to its stop.</summary>
    KnownLength,
}

/// <summary>What is told of something drawn.</summary>
public enum DrawnQuantity
{
    /// <summary>A length along the film's scale, in mm.</summary>
    Length,

    /// <summary>An angle on the film, in degrees.</summary>
    Angle,

    /// <summary>The area inside an outline, in mm².</summary>
    Area,

    /// <summary>The largest distance between two points of an outline, in mm.</summary>
    LargestDiameter,

    /// <summary>How wide an outline is at right angles to its largest diameter, in mm.</summary>
    DiameterAcross,

    /// <summary>The way round an outline, in mm.</summary>
    Perimeter,

    /// <summary>The length seen over the true length.</summary>
    Foreshortening,

    /// <summary>The angle to the film that a foreshortening implies, in degrees.</summary>
    AngleToFilm,
}

/// <summary>What a person drew.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="Points">Its points on the film, in the order in which they were set.</param>
/// <param name="TrueLength">The true length of an instrument; null for everything else.</param>
public sealed record DrawnShape(DrawnKind Kind, IReadOnlyList<PixelPoint> Points, Millimetres? TrueLength);

/// <summary>The scale that something was measured with.</summary>
/// <param name="MillimetresPerPixel">Size of a pixel, in mm.</param>
/// <param name="Source">Where it came from.</param>
public sealed record DrawnScale(double MillimetresPerPixel, CalibrationSource Source);

/// <summary>One figure of something drawn, in the unit of its quantity.</summary>
/// <param name="Quantity">What it is.</param>
/// <param name="Value">The figure with its 95 % interval.</param>
/// <param name="FromClicks">Half of the interval that is owed to the hand alone.</param>
/// <param name="FromScale">Half of the interval that is owed to the scale alone, the reading of a stop included; 0 where it needs none.</param>
public sealed record DrawnFigure(DrawnQuantity Quantity, Estimate Value, double FromClicks, double FromScale);

/// <summary>A named measurement on a film of a case.</summary>
/// <param name="Number">Its number in the case, from 1; never used twice.</param>
/// <param name="Name">The name that it was given.</param>
/// <param name="FilmSha256">SHA-256 of the film.</param>
/// <param name="Shape">What was drawn.</param>
/// <param name="Scale">The scale used; null where none was needed.</param>
/// <param name="Figures">What was read, as it was read then.</param>
public sealed record DrawnMeasurement(int Number, string Name, string FilmSha256, DrawnShape Shape, DrawnScale? Scale, IReadOnlyList<DrawnFigure> Figures)
{
    // Less than any figure shows.
    private const double SameScale = 1e-6;

    /// <summary>Whether it was measured with another scale than a given one; what needed no scale never was, and a size that was typed stands where a film has none.</summary>
    /// <param name="millimetresPerPixel">Size of a pixel, in mm; null for no scale.</param>
    public bool HasOtherScaleThan(double? millimetresPerPixel) => Scale is { } used
        && (millimetresPerPixel is { } other ? Math.Abs((used.MillimetresPerPixel / other) - 1) > SameScale : used.Source != CalibrationSource.Entered);

    /// <summary>One of its figures; null when there is none of that quantity.</summary>
    public DrawnFigure? Figure(DrawnQuantity quantity) => Figures.FirstOrDefault(figure => figure.Quantity == quantity);
}
