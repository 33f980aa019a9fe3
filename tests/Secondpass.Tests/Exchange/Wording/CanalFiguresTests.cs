using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;
using Secondpass.Exchange.Wording;

namespace Secondpass.Tests.Exchange.Wording;

public sealed class CanalFiguresTests
{
    private static readonly Calibration Scale = Calibration.From(0.03, CalibrationSource.Entered).Value;

    [Theory]
    [InlineData(1.34, 0.9, 1.7, "1.3 mm (0.9–1.7) short of the canal end")]
    [InlineData(-0.8, -1.2, -0.4, "0.8 mm (0.4–1.2) beyond the canal end")]
    [InlineData(0.12, -0.3, 0.5, "0.1 mm short of the canal end (0.3 mm beyond to 0.5 mm short)")]
    [InlineData(0.04, -0.2, 0.3, "at the canal end (0.2 mm beyond to 0.3 mm short)")]
    public void Says_where_the_filling_ends_with_how_sure_that_is(double value, double low, double high, string words) =>
        Assert.Equal(words, MeasureWords.FillingEndWithin(new Estimate(value, new Interval(low, high))));

    [Fact]
    public void Gives_each_figure_with_its_interval_and_says_why_one_is_missing()
    {
        var plain = InventedComparison.Branch(InventedComparison.Plain);
        var measured = plain with
        {
            Measures = plain.Measures with
            {
                SchneiderDegrees = new Estimate(25.3, new Interval(22.4, 28.1)),
                Pruett = new PruettCurve(null, null, "The canal is too straight."),
            },
            CanalWidths = [new CanalWidthSample(480, Estimate.Within(12, 5)), new CanalWidthSample(500, Estimate.Within(10, 5))],
        };

        var figures = CanalFigures.Of(measured, Scale).ToDictionary(figure => figure.Name, figure => figure.Value);

        Assert.Matches(@"^15\.3 mm \(\d+\.\d–\d+\.\d\)$", figures["Length"]);
        Assert.Equal("25° (22–28)", figures["Curve after Schneider"]);
        Assert.Equal("The canal is too straight.", figures["Curve after Pruett"]);
        Assert.StartsWith("0.30 to 0.36 mm wide between", figures["Canal without filling"], StringComparison.Ordinal);
    }

    [Fact]
    public void Leaves_out_what_needs_millimetres_where_there_is_no_scale()
    {
        var plain = InventedComparison.Branch(InventedComparison.Plain);
        var noScale = plain with { Measures = plain.Measures with { Length = null, FilledLength = null, FillingEndToCanalEnd = null } };

        Assert.DoesNotContain(CanalFigures.Of(noScale, null), figure => figure.Value.Contains("mm", StringComparison.Ordinal));
    }
}
