using Secondpass.Domain.Cases;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;
using Secondpass.Exchange.Wording;

namespace Secondpass.Tests.Exchange.Wording;

public sealed class DrawnWordsTests
{
    [Theory]
    [InlineData(DrawnQuantity.Length, 14.25, "length 14.3 mm (13.3–15.3)")]
    [InlineData(DrawnQuantity.Area, 28.3, "area 28.3 mm² (27.3–29.3)")]
    [InlineData(DrawnQuantity.Angle, 32.4, "angle 32° (31–33)")]
    [InlineData(DrawnQuantity.Foreshortening, 1.984, "seen over true length 1.98 (0.98–2.98)")]
    public void Says_a_figure_with_unit_and_interval(DrawnQuantity quantity, double value, string words) =>
        Assert.Equal(words, DrawnWords.Line(new DrawnFigure(quantity, Estimate.Within(value, 1), 0.5, 0.5)));

    [Fact]
    public void Says_what_an_interval_is_owed_to()
    {
        Assert.Equal("±0.15 from the clicks, ±0.18 from the scale", DrawnWords.Owed(new DrawnFigure(DrawnQuantity.Length, Estimate.Within(15, 0.2), 0.15, 0.176)));
        Assert.Equal("±0.9 from the clicks", DrawnWords.Owed(new DrawnFigure(DrawnQuantity.Angle, Estimate.Within(15, 0.86), 0.86, 0)));
    }

    [Fact]
    public void Says_a_correction_and_what_it_costs_in_certainty() => Assert.Equal(
        "Were it foreshortened as “file”: 21.0 mm (20.2–21.8), 0.32 mm more than seen, and uncertain by 0.48 mm more to either side.",
        DrawnWords.Corrected(new CorrectedLength(Estimate.Within(21, 0.8), new Millimetres(0.32), new Millimetres(0.48)), "file"));

    [Theory]
    [InlineData(12, 8, "Area 12.0 → 8.0 mm²: smaller by 4.0 mm² (2.6–5.4).")]
    [InlineData(8, 12, "Area 8.0 → 12.0 mm²: larger by 4.0 mm² (2.6–5.4).")]
    [InlineData(12, 11.5, "Area 12.0 → 11.5 mm²: no change that can be told (−1.9 to +0.9 mm²).")]
    public void Says_a_change_between_two_films_or_that_none_can_be_told(double before, double after, string words) =>
        Assert.Equal(words, DrawnWords.Change(new LesionChange(Lesion(before), Lesion(after), Estimate.Within(after - before, Math.Sqrt(2)), Estimate.Within(0, 1)), DrawnQuantity.Area));

    [Fact]
    public void A_change_is_never_called_healing_or_worse()
    {
        var words = string.Join(' ', DrawnWords.Change(new LesionChange(Lesion(12), Lesion(8), Estimate.Within(-4, 1), Estimate.Within(-1, 0.5)), DrawnQuantity.LargestDiameter), string.Join(' ', DrawnWords.Cautions));

        Assert.DoesNotMatch("heal|better|worse|improv|progress", words);
    }

    private static DrawnMeasurement Lesion(double area) => new(
        1,
        "lesion",
        "film",
        new DrawnShape(DrawnKind.Lesion, [], null),
        null,
        [new DrawnFigure(DrawnQuantity.Area, Estimate.Within(area, 1), 0.6, 0.8), new DrawnFigure(DrawnQuantity.LargestDiameter, Estimate.Within(4, 0.3), 0.2, 0.2)]);
}
