using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Phantoms.Truth;
using Secondpass.Radiographs.Trace;

namespace Secondpass.Tests.Radiographs.Trace;

/// <summary>Voids of a filling against rods of known section and against the truth of simulated films.</summary>
public sealed class VoidFinderTests
{
    private const double Radius = 12;

    private static readonly Calibration Scale = Calibration.From(0.03, CalibrationSource.Entered).Value;

    // A round rod of radius r holds (r / 12)² of the section of one of radius 12.
    [Theory]
    [InlineData(10.2, 27.8)]
    [InlineData(9, 43.8)]
    [InlineData(0, 100)]
    public void A_piece_that_is_missing_is_told_with_its_place_length_and_share_of_the_section(double radius, double missingPercent)
    {
        var found = Assert.Single(Voids(level => level is >= 200 and < 230 ? radius : Radius));

        Assert.True(found.MissingPercent.Interval.Contains(missingPercent), $"{found.MissingPercent.Value:0.0} % {found.MissingPercent.Interval}");
        Assert.InRange((found.FromPixels + found.ToPixels) / 2, 210, 220);
        Assert.True(found.Length(Scale).Interval.Contains(0.9));
    }

    [Fact]
    public void A_filling_that_tapers_evenly_has_none() => Assert.Empty(Voids(level => 14 - (0.02 * level)));

    [Fact]
    public void A_bulge_is_no_void_beside_it() => Assert.Empty(Voids(level => level is >= 200 and < 230 ? 15 : Radius));

    // 2 mm from there on nothing of a step to a thinner filling is missing: it tapers otherwise.
    [Fact]
    public void A_thinner_filling_from_some_level_on_is_no_void_along_all_of_it() =>
        Assert.All(Voids(level => level < 200 ? 13 : 10), found => Assert.InRange(found.ToPixels - found.FromPixels, 0, 70));

    // Seeds that no limit was set on. Lengths are compared as they are defined: where half of the greatest loss is missing.
    [Fact]
    public void On_simulated_films_most_voids_of_a_fifth_of_the_section_are_found_and_few_that_are_none()
    {
        var (asked, found, none, canals, held) = (0, 0, 0, 0, 0);
        for (var seed = 5000; seed < 5014; seed++)
        {
            var pair = PhantomPair.Make(seed, new PairOptions { Residual = 0 });
            var scale = Calibration.From(pair.Before.Geometry.PixelSizeAtTooth, CalibrationSource.Entered).Value;
            foreach (var branch in CanalTracer.TraceAll(pair.Before.Radiograph, scale, pair.Clicks(1)).Value.SelectMany(trunk => trunk.SelfAndBelow()))
            {
                var truth = pair.Truth.Branch(branch.Name).OnBefore;
                var places = VoidTruth.Of(branch, truth);
                canals++;
                asked += places.Count(place => place.IsClear(scale.MillimetresPerPixel));
                found += places.Count(place => place.IsClear(scale.MillimetresPerPixel) && branch.Measures.Voids.Any(place.Meets));
                none += branch.Measures.Voids.Count(gap => !places.Any(place => place.Meets(gap)));
                held += places.Count(place => branch.Measures.Voids.FirstOrDefault(place.Meets) is { ToPixels: > 0 } gap && place.IsClear(scale.MillimetresPerPixel)
                    && gap.Length(scale).Interval.Contains(place.HalfDepthPixels * scale.MillimetresPerPixel));
            }
        }

        Assert.True(asked >= 10, $"{asked} voids");
        Assert.True(found >= 0.7 * asked, $"{found} of {asked} found");
        Assert.True(none <= 0.12 * canals, $"{none} that are none on {canals} canals");
        Assert.True(held >= 0.85 * found, $"{held} of {found} lengths in their interval");
    }

    private static IReadOnlyList<FillingVoid> Voids(Func<double, double> radius)
    {
        var line = new CanalPath([new PixelPoint(200, 40), new PixelPoint(200, 460)]);
        var film = RodFilm.Draw(420, 520, 100, inverted: false, (line, radius));
        var traced = CanalTracer.Trace(film, Scale, RodFilm.Marks("P", line)).Value;
        return traced.Measures.Voids;
    }
}
