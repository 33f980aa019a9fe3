using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;
using Secondpass.Radiographs.Trace;

namespace Secondpass.Tests.Radiographs.Trace;

/// <summary>Size and taper of a filling, and the published criteria it is held against.</summary>
public sealed class FillingConeTests
{
    private static readonly Calibration Scale = Calibration.From(0.03, CalibrationSource.Entered).Value;

    // A cone of 0.30 mm at its end and 0.04 mm per mm, drawn by its definition: width = size + taper × distance.
    [Theory]
    [InlineData(0.30, 0.04, 30)]
    [InlineData(0.40, 0.06, 40)]
    public void Finds_size_and_taper_of_a_cone(double size, double taper, int nearest)
    {
        var cone = Traced((level, end) => (size + (taper * (end - level) * 0.03)) / 0.06).Measures.Cone!;

        Assert.InRange(cone.EndWidthMillimetres.Value, size - 0.05, size + 0.05);
        Assert.InRange(cone.TaperMillimetresPerMillimetre.Value, taper - 0.01, taper + 0.01);
        Assert.True(cone.EndWidthMillimetres.Interval.Contains(size));
        Assert.True(cone.TaperMillimetresPerMillimetre.Interval.Contains(taper));
        Assert.Equal(nearest, cone.NearestSize);
    }

    [Fact]
    public void A_bulge_does_not_change_the_cone()
    {
        var cone = Traced((level, end) => ((0.3 + (0.04 * (end - level) * 0.03)) / 0.06) + (end - level is > 60 and < 85 ? 4 : 0)).Measures.Cone!;

        Assert.InRange(cone.EndWidthMillimetres.Value, 0.25, 0.36);
        Assert.InRange(cone.TaperMillimetresPerMillimetre.Value, 0.03, 0.05);
    }

    [Theory]
    [InlineData(1.0, 0.2, Meets.Yes)]
    [InlineData(2.6, 0.2, Meets.No)]
    [InlineData(-0.5, 0.2, Meets.No)]
    [InlineData(1.9, 0.2, Meets.CantTell)]
    [InlineData(0.1, 0.2, Meets.CantTell)]
    public void Says_of_a_filling_s_length_only_what_its_interval_allows(double end, double half, Meets expected)
    {
        var criterion = FillingQuality.Of(Measures(Estimate.Within(end, half), []))[0];

        Assert.Equal(expected, criterion.Meets);
        Assert.Contains("Liang", criterion.Source, StringComparison.Ordinal);
        Assert.Equal(Standing.Published, FilmSigns.AdequateShortOfEnd.Standing);
    }

    [Fact]
    public void Never_says_that_a_filling_has_no_voids()
    {
        Assert.Equal(Meets.CantTell, FillingQuality.Of(Measures(Estimate.Within(1, 0.2), []))[1].Meets);
        Assert.Equal(Meets.No, FillingQuality.Of(Measures(Estimate.Within(1, 0.2), [new FillingVoid(100, 140, 3, Estimate.Within(25, 14))]))[1].Meets);
    }

    [Fact]
    public void Voids_take_their_share_of_the_filled_length()
    {
        var measures = Measures(Estimate.Within(1, 0.2), [new FillingVoid(100, 130, 3, Estimate.Within(25, 14)), new FillingVoid(200, 210, 3, Estimate.Within(25, 14))]);

        Assert.Equal(12.5, measures.VoidPercent, 6);
        Assert.Equal(100, measures.LongestVoid!.Value.FromPixels, 6);
    }

    /// <summary>Where a canal divides, a wide trunk's filling is often followed by a gap and a branch's much thinner one.</summary>
    [Fact]
    public void A_thin_filling_after_a_gap_still_counts_where_it_is_as_dense()
    {
        var traced = Traced((level, _) => level < 190 ? 14 : level < 210 ? 0 : 5);

        Assert.InRange(traced.Filling.FilledToPixels!.Value.Value, 385, 395);
    }

    // 400 pixels long, filled over 80 % of it.
    private static BranchMeasures Measures(Estimate end, IReadOnlyList<FillingVoid> voids) =>
        new(400, Estimate.Within(12, 0.2), Estimate.Within(9.6, 0.2), 80, end, Estimate.Within(3, 2), new PruettCurve(null, null, "straight"), null, voids);

    private static TracedBranch Traced(Func<double, double, double> radius)
    {
        const double End = 390;
        var line = new CanalPath([new PixelPoint(200, 40), new PixelPoint(200, 460)]);
        var film = RodFilm.Draw(420, 520, 60, inverted: false, (line, level => level < End ? radius(level, End) : 0));
        return CanalTracer.Trace(film, Scale, RodFilm.Marks("P", line)).Value;
    }
}
