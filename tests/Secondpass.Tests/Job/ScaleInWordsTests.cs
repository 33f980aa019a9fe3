using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;
using Secondpass.Job;
using Secondpass.Job.Documents;
using Secondpass.Job.Shown;
using Secondpass.Tests.Exchange;

namespace Secondpass.Tests.Job;

/// <summary>How uncertain a film's scale is goes into what is said of a canal in words.</summary>
public sealed class ScaleInWordsTests
{
    // A void of 301 px (9.03 mm ± 0.45) and a wall of 100 px (3 mm, 0.55 thinner or 0.15 thicker). What marks and length leave of the scale, by hand:
    // √((√2 · 1.8 / 700)² + (0.5 / √3 / 21)²) is 1.42 %, with 1.5 mm in the place of 0.5 4.14 %; 1.96 times that of 9.03 mm is joined with 0.45 in squares.
    [Theory]
    [InlineData(null, "over 9.0 mm (8.6–9.5 mm)", "3.00 mm (2.45–3.15)")]
    [InlineData(0.5, "over 9.0 mm (8.5–9.5 mm)", "3.00 mm (2.44–3.17)")]
    [InlineData(1.5, "over 9.0 mm (8.2–9.9 mm)", "3.00 mm (2.40–3.29)")]
    public void A_void_and_a_wall_are_told_as_wide_as_the_scale_leaves_them(double? within, string gap, string wall)
    {
        var measured = Measured(within is { } known
            ? Calibration.From(new KnownLength(new PixelPoint(10, 50), new PixelPoint(710, 50), new Millimetres(21), new Millimetres(known))).Value
            : InventedComparison.Scale);

        Assert.Contains(gap, TracedCanal.Of(measured).Branches[0].Signs[^1], StringComparison.Ordinal);
        Assert.Contains(gap, ResultText.Of(DemoFilm.Case(DemoFilm.Incisor), measured), StringComparison.Ordinal);
        Assert.Contains($"the thinnest wall that is seen is {wall}", ResultText.Of(DemoFilm.Case(DemoFilm.Incisor), measured), StringComparison.Ordinal);
    }

    private static MeasuredFilm Measured(Calibration scale)
    {
        var plain = InventedComparison.Branch(InventedComparison.Plain);
        TracedBranch[] trunks =
        [
            plain with
            {
                Measures = plain.Measures with { Voids = [new FillingVoid(100, 401, 9, Estimate.Within(50, 14))] },
                Walls = [new WallSample(200, 100, null)],
            },
        ];
        return new MeasuredFilm(scale, trunks, MeasureDocument.From(trunks, scale, []));
    }
}
