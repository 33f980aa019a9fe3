using Secondpass.Domain.Cases;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;

namespace Secondpass.Exchange.Wording;

/// <summary>Says in words what was drawn on a film.</summary>
public static class DrawnWords
{
    /// <summary>What stands beside every length and area drawn on a film.</summary>
    public static IReadOnlyList<string> Cautions { get; } =
    [
        "A film is a projection: lengths are along the film’s scale, and an angle is the one on the film.",
        "A lesion’s size on a film is not its size in bone.",
        "Intervals hold how steadily a hand clicks and the film’s scale, not where somebody else would see an edge.",
    ];

    /// <summary>What stands beside every change between two films.</summary>
    public const string ChangeCaution = "Two films taken at other angles change an outline by themselves; that is not in the interval. Nothing is said of healing.";

    /// <summary>What a kind is called.</summary>
    public static string Of(DrawnKind kind) => kind switch
    {
        DrawnKind.Length => "length",
        DrawnKind.Angle => "angle of three points",
        DrawnKind.AngleOfLines => "angle between two lines",
        DrawnKind.Lesion => "lesion",
        _ => "known length",
    };

    /// <summary>What a quantity is called.</summary>
    public static string Of(DrawnQuantity quantity) => quantity switch
    {
        DrawnQuantity.Length => "length",
        DrawnQuantity.Angle => "angle",
        DrawnQuantity.Area => "area",
        DrawnQuantity.LargestDiameter => "largest diameter",
        DrawnQuantity.DiameterAcross => "across it",
        DrawnQuantity.Perimeter => "way round",
        DrawnQuantity.Foreshortening => "seen over true length",
        _ => "angle to the film",
    };

    /// <summary>The unit of a quantity; empty for none.</summary>
    public static string Unit(DrawnQuantity quantity) => quantity switch
    {
        DrawnQuantity.Angle or DrawnQuantity.AngleToFilm => "°",
        DrawnQuantity.Area => "mm²",
        DrawnQuantity.Foreshortening => string.Empty,
        _ => "mm",
    };

    /// <summary>One figure with its name, such as "area 28.3 mm² (25.9–30.7)".</summary>
    public static string Line(DrawnFigure figure)
    {
        ArgumentNullException.ThrowIfNull(figure);
        return $"{Of(figure.Quantity)} {Value(figure)}";
    }

    /// <summary>One figure with its interval, such as "28.3 mm² (25.9–30.7)".</summary>
    public static string Value(DrawnFigure figure)
    {
        ArgumentNullException.ThrowIfNull(figure);
        return With(figure.Value, Unit(figure.Quantity), Decimals(figure.Quantity));
    }

    /// <summary>What the interval of a figure is owed to, such as "±0.2 from the clicks, ±0.1 from the scale".</summary>
    public static string Owed(DrawnFigure figure)
    {
        ArgumentNullException.ThrowIfNull(figure);
        var decimals = Decimals(figure.Quantity) + 1;
        var clicks = $"±{EstimateWords.Number(figure.FromClicks, decimals)} from the clicks";
        return figure.FromScale > 0 ? $"{clicks}, ±{EstimateWords.Number(figure.FromScale, decimals)} from {(figure.Quantity is DrawnQuantity.Foreshortening or DrawnQuantity.AngleToFilm ? "scale, stop and magnification" : "the scale")}" : clicks;
    }

    /// <summary>A length corrected for foreshortening, in a sentence.</summary>
    /// <param name="corrected">The length.</param>
    /// <param name="by">The name of the instrument that it was corrected by.</param>
    public static string Corrected(CorrectedLength corrected, string by)
    {
        ArgumentNullException.ThrowIfNull(corrected);
        var lost = corrected.Lost.Value;
        return $"Were it foreshortened as “{by}”: {EstimateWords.Millimetres(corrected.LengthMillimetres, 1)}, {EstimateWords.Number(Math.Abs(lost), 2)} mm {(lost < 0 ? "less" : "more")} than seen, and uncertain by {EstimateWords.Number(corrected.Wider.Value, 2)} mm more to either side.";
    }

    /// <summary>A change in a sentence of its own, such as "Area 12.1 → 8.0 mm²: smaller by 4.1 mm² (2.0–6.2)."</summary>
    /// <param name="change">The lesion.</param>
    /// <param name="quantity">Area or largest diameter.</param>
    public static string Change(LesionChange change, DrawnQuantity quantity)
    {
        ArgumentNullException.ThrowIfNull(change);
        var (by, told) = quantity == DrawnQuantity.Area ? (change.AreaSquareMillimetres, change.TellsArea) : (change.DiameterMillimetres, change.TellsDiameter);
        var (before, after) = (change.Before.Figure(quantity)!.Value.Value, change.After.Figure(quantity)!.Value.Value);
        var unit = Unit(quantity);
        var name = quantity == DrawnQuantity.Area ? "Area" : "Largest diameter";
        var from = $"{name} {EstimateWords.Number(before, 1)} → {EstimateWords.Number(after, 1)} {unit}: ";
        if (!told)
        {
            return $"{from}no change that can be told ({Signed(by.Interval.Low)} to {Signed(by.Interval.High)} {unit}).";
        }

        var smaller = by.Value < 0;
        var (least, most) = smaller ? (-by.Interval.High, -by.Interval.Low) : (by.Interval.Low, by.Interval.High);
        return $"{from}{(smaller ? "smaller" : "larger")} by {EstimateWords.Number(Math.Abs(by.Value), 1)} {unit} ({EstimateWords.Number(least, 1)}–{EstimateWords.Number(most, 1)}).";
    }

    private static int Decimals(DrawnQuantity quantity) => quantity switch
    {
        DrawnQuantity.Foreshortening => 2,
        DrawnQuantity.Angle or DrawnQuantity.AngleToFilm => 0,
        _ => 1,
    };

    private static string With(Estimate value, string unit, int decimals) => EstimateWords.With(value, unit is "" or "°" ? unit : " " + unit, decimals);

    private static string Signed(double value) => value < 0 ? "−" + EstimateWords.Number(-value, 1) : "+" + EstimateWords.Number(value, 1);
}
