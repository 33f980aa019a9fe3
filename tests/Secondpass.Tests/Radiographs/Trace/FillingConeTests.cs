using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;
using Secondpass.Phantoms.Anatomy;
using Secondpass.Phantoms.Truth;
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

    /// <summary>Scatter and the film's grey curve flatten a filling's shadow, which then looks like a wider one's: sizes were read too large, here by 0.012 mm.</summary>
    [Fact]
    public void Sizes_are_not_read_too_large_on_films_with_scatter_and_a_grey_curve()
    {
        var errors = new List<double>();
        for (var seed = 3000; seed < 3006; seed++)
        {
            var pair = PhantomPair.Make(seed, new PairOptions { Kind = ToothKind.UpperIncisor, Residual = 0, Change = PairChange.None, Tooth = new ToothOptions { Voids = 0, Splits = false } });
            var scale = Calibration.From(pair.Before.Geometry.PixelSizeAtTooth, CalibrationSource.Entered).Value;
            var traced = CanalTracer.TraceAll(pair.Before.Radiograph, scale, pair.Clicks(0)).Value[0];
            var truth = pair.Truth.Branch(traced.Name).OnBefore;

            // The truth tapers evenly: from two of its widths to the one that it would have at its end.
            var (near, far) = (WidthAt(0.5), WidthAt(4.5));
            errors.Add(traced.Measures.Cone!.EndWidthMillimetres.Value - (near - ((far - near) / 8)));

            double WidthAt(double fromEnd)
            {
                var edges = truth.FillingEdges(truth.FilledToPixels!.Value - (fromEnd / scale.MillimetresPerPixel))!.Value;
                return (edges.Left - edges.Right) * scale.MillimetresPerPixel;
            }
        }

        // Each errs by 0.007 mm (standard deviation), their mean by 0.003.
        Assert.InRange(errors.Average(), -0.008, 0.008);
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
