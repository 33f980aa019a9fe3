using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;
using Secondpass.Phantoms.Truth;
using Secondpass.Radiographs.Trace;

namespace Secondpass.Tests.Radiographs.Trace;

/// <summary>What a film shows beside the filling: the canal without one, the root's outline, the density along the filling.</summary>
public sealed class EmptyWidthTests
{
    // Widths of one canal err together: of all on twenty films nine tenths lie in their 95 % interval, and half err by less than 0.08 mm.
    [Fact]
    public void The_width_of_a_canal_without_filling_is_given_with_an_interval_that_holds()
    {
        List<(Estimate Found, double Truth)> widths = [];
        for (var seed = 3010; seed < 3030; seed++)
        {
            ForEach(seed, (branch, truth, millimetres) => widths.AddRange(branch.CanalWidths
                .Select(at => (at.WidthPixels, Edges: truth.CanalEdges(truth.NearestLevel(branch.Path.At(at.LevelPixels)))))
                .Where(at => at.Edges is not null)
                .Select(at => (Estimate.Within(at.WidthPixels.Value * millimetres, at.WidthPixels.Interval.Width / 2 * millimetres), (at.Edges!.Value.Left - at.Edges.Value.Right) * millimetres))));
        }

        Assert.True(widths.Count > 20, $"{widths.Count} widths");
        var held = widths.Count(width => width.Found.Interval.Contains(width.Truth));
        Assert.True(held >= 0.9 * widths.Count, $"{held} of {widths.Count}");
        Assert.InRange(widths.Select(width => Math.Abs(width.Found.Value - width.Truth)).Order().ElementAt(widths.Count / 2), 0, 0.08);
    }

    [Fact]
    public void A_canal_filled_to_its_end_has_no_such_width_and_says_why()
    {
        var line = RodFilm.StraightArcStraight(new PixelPoint(150, 60), 180, 250, 35, 40);
        var film = RodFilm.Draw(420, 480, 100, inverted: false, (line, level => 12 - (0.02 * level)));
        var traced = CanalTracer.Trace(film, Scale(0.03), new CanalClicks("P", [new(line.Points[0], PinStrength.Soft), new(line.Points[^1], PinStrength.Soft)], [])).Value;

        Assert.Empty(traced.CanalWidths);
        Assert.Equal("No part of the canal is seen without filling over more than half a millimetre.", traced.WhyNoCanalWidth);
    }

    // An even rod on an even ground is equally dense everywhere; what is left out are its ends. 27 % is the interval on films of teeth.
    [Fact]
    public void An_even_filling_is_equally_dense_along_its_length()
    {
        var line = RodFilm.StraightArcStraight(new PixelPoint(150, 60), 180, 250, 35, 40);
        var film = RodFilm.Draw(420, 480, 100, inverted: false, (line, level => 12 - (0.02 * level)));
        var traced = CanalTracer.Trace(film, Scale(0.03), new CanalClicks("P", [new(line.Points[0], PinStrength.Soft), new(line.Points[^1], PinStrength.Soft)], [])).Value;

        var densities = traced.Filling.Densities();
        Assert.True(densities.Count > 50, $"{densities.Count} levels");
        Assert.All(densities, at => Assert.InRange(at.Percent.Value, 90, 110));
    }

    // Errors of one surface hang together, so that levels of twenty films are counted together.
    [Fact]
    public void Walls_have_intervals_that_hold_the_root_s_outline()
    {
        var (held, all, sizes) = (0, 0, new List<double>());
        for (var seed = 3030; seed < 3050; seed++)
        {
            ForEach(seed, (branch, truth, millimetres) =>
            {
                foreach (var wall in branch.Walls)
                {
                    var level = truth.NearestLevel(branch.Path.At(wall.LevelPixels));
                    if (truth.FillingEdges(level) is not { } filling || truth.RootEdges(level) is not { } root)
                    {
                        continue;
                    }

                    foreach (var (found, thick) in new[] { (wall.LeftPixels, root.Left - filling.Left), (wall.RightPixels, filling.Right - root.Right) })
                    {
                        if (found is { } pixels)
                        {
                            all++;
                            held += WallSample.InMillimetres(pixels, Scale(millimetres)).Interval.Contains(thick * millimetres) ? 1 : 0;
                            sizes.Add(Math.Abs(pixels - thick) * millimetres);
                        }
                    }
                }
            });
        }

        Assert.True(all > 500, $"{all} walls");
        Assert.True(held >= 0.9 * all, $"{held} of {all} walls");
        Assert.InRange(sizes.Order().ElementAt(sizes.Count / 2), 0, 0.15);
    }

    private static void ForEach(int seed, Action<TracedBranch, BranchOnFilm, double> look)
    {
        var pair = PhantomPair.Make(seed, new PairOptions { Residual = 0, Change = PairChange.None });
        var millimetres = pair.Before.Geometry.PixelSizeAtTooth;
        foreach (var branch in CanalTracer.TraceAll(pair.Before.Radiograph, Scale(millimetres), pair.Clicks(0, 1.7, seed)).Value.SelectMany(trunk => trunk.SelfAndBelow()))
        {
            look(branch, pair.Truth.Branch(branch.Name).OnBefore, millimetres);
        }
    }

    private static Calibration Scale(double millimetresPerPixel) => Calibration.From(millimetresPerPixel, CalibrationSource.Entered).Value;
}
