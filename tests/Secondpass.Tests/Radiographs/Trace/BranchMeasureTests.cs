using Secondpass.Domain.Films;
using Secondpass.Phantoms.Anatomy;
using Secondpass.Phantoms.Truth;
using Secondpass.Radiographs.Trace;

namespace Secondpass.Tests.Radiographs.Trace;

/// <summary>Measures against the truth of simulated films. Tolerances are those of a single film.</summary>
public sealed class BranchMeasureTests
{
    [Theory]
    [InlineData(801)]
    [InlineData(802)]
    [InlineData(803)]
    public void Measures_length_filled_length_and_filling_end_of_a_canal(int seed)
    {
        var (pair, branch) = Traced(seed, new ToothOptions { ShortMillimetres = 2 });
        var truth = pair.Truth.Branch(branch.Name).OnBefore;
        var scale = pair.Before.Geometry.PixelSizeAtTooth;

        Assert.InRange(branch.Measures.Length!.Value.Value, truth.LengthMillimetres - 0.2, truth.LengthMillimetres + 0.2);
        Assert.InRange(branch.Measures.FillingEndToCanalEnd!.Value.Value, ((truth.Path.LengthPixels - truth.FilledToPixels!.Value) * scale) - 0.25, ((truth.Path.LengthPixels - truth.FilledToPixels.Value) * scale) + 0.25);
        Assert.InRange(branch.Measures.FilledLength!.Value.Value, (truth.FilledToPixels.Value * scale) - 0.5, (truth.FilledToPixels.Value * scale) + 0.5);
    }

    [Fact]
    public void Says_beyond_as_a_negative_distance()
    {
        var (_, branch) = Traced(811, new ToothOptions { ShortMillimetres = -0.8 });

        Assert.InRange(branch.Measures.FillingEndToCanalEnd!.Value.Value, -1.2, -0.4);
    }

    [Theory]
    [InlineData(821)]
    [InlineData(822)]
    public void Measures_the_filling_s_width_every_tenth_of_a_millimetre(int seed)
    {
        var (pair, branch) = Traced(seed, new ToothOptions { Voids = 0 });
        var truth = pair.Truth.Branch(branch.Name).OnBefore;
        var scale = pair.Before.Geometry.PixelSizeAtTooth;
        var samples = branch.Filling.Samples;

        Assert.InRange((samples[1].LevelPixels - samples[0].LevelPixels) * scale, 0.095, 0.105);
        var errors = samples
            .Where(sample => sample.FillingWidthPixels is not null && sample.LevelPixels > 20)
            .Select(sample => (sample, edges: truth.FillingEdges(truth.NearestLevel(branch.Path.At(sample.LevelPixels)))))
            .Where(pair => pair.edges is not null)
            .Select(pair => Math.Abs(pair.sample.FillingWidthPixels!.Value.Value - Math.Abs(pair.edges!.Value.Left - pair.edges.Value.Right)) * scale)
            .Order()
            .ToArray();
        Assert.True(errors.Length > 80, "most of the canal is filled");
        Assert.True(errors[errors.Length / 2] < 0.06, $"median error {errors[errors.Length / 2]:0.000} mm");
    }

    // 0.3 mm: Partnoy, Vokal, Hoen, Oral Health (Canada): the relationship between radiographic asymmetry of root canal
    // obturations and the presence of unfilled canals.
    [Theory]
    [InlineData(831, 0.5)]
    [InlineData(833, 0.3)]
    public void Shows_a_filling_that_lies_off_centre_beside_a_missed_canal_as_a_sign(int seed, double offset)
    {
        var (pair, branch) = Traced(
            seed,
            new ToothOptions { SecondCanalMissed = true, OffCentreMillimetres = offset, Voids = 0, CurveDegrees = 8 },
            ToothKind.LowerMolar);
        var sign = branch.Measures.OffCentre!;
        var scale = pair.Before.Geometry.PixelSizeAtTooth;
        var truth = pair.Truth.Branch(branch.Name).OnBefore;
        var there = truth.OffCentreMillimetres(truth.NearestLevel(branch.Path.At(branch.Path.LengthPixels - (sign.AtMillimetresFromEnd / scale))))!.Value;

        Assert.True(sign.IsSign);
        Assert.InRange(sign.DifferenceMillimetres.Value, Math.Abs(there) - 0.1, Math.Abs(there) + 0.1);
        Assert.Equal(there > 0, sign.WiderSideIsLeft);
    }

    [Theory]
    [InlineData(831)]
    [InlineData(832)]
    public void Shows_no_such_sign_where_the_filling_lies_in_the_middle(int seed)
    {
        var (_, branch) = Traced(seed, new ToothOptions { Voids = 0 });

        Assert.False(branch.Measures.OffCentre!.IsSign, $"difference {branch.Measures.OffCentre.DifferenceMillimetres.Value:0.00} mm");
    }

    // Seeds that nothing was tuned on. Over 42 such films the 95th percentile of the error was 0.06 mm where a figure was given (docs/models/measurement.md).
    [Fact]
    public void Says_how_far_a_filling_lies_off_centre_within_0_2_mm_or_says_why_it_can_t()
    {
        var errors = new List<double>();
        foreach (var seed in Enumerable.Range(5000, 12))
        {
            var pair = PhantomPair.Make(seed, new PairOptions { Residual = 0 });
            var scale = Calibration.From(pair.Before.Geometry.PixelSizeAtTooth, CalibrationSource.Entered).Value;
            var trunks = CanalTracer.TraceAll(pair.Before.Radiograph, scale, pair.Clicks(1)).Value;
            foreach (var branch in trunks.SelectMany(trunk => trunk.SelfAndBelow()))
            {
                Assert.NotEqual(branch.Measures.OffCentre is null, branch.Measures.WhyNoOffCentre is null);
                var truth = pair.Truth.Branch(branch.Name).OnBefore;
                if (branch.Measures.OffCentre is { } sign
                    && truth.OffCentreMillimetres(truth.NearestLevel(branch.Path.At(branch.Path.LengthPixels - (sign.AtMillimetresFromEnd / scale.MillimetresPerPixel)))) is { } there)
                {
                    errors.Add(Math.Abs(sign.DifferenceMillimetres.Value - (sign.WiderSideIsLeft ? there : -there)));
                }
            }
        }

        errors.Sort();
        Assert.True(errors.Count >= 4, $"{errors.Count} branches have a figure");
        Assert.True(errors[errors.Count / 2] < 0.1, $"median error {errors[errors.Count / 2]:0.00} mm");
        Assert.True(errors[(int)(0.95 * (errors.Count - 1))] < 0.2, $"95th percentile {errors[(int)(0.95 * (errors.Count - 1))]:0.00} mm");
    }

    [Fact]
    public void Gives_no_radius_to_a_canal_that_hardly_turns_and_says_so()
    {
        var (_, branch) = Traced(841, new ToothOptions { CurveDegrees = 3 });

        Assert.Null(branch.Measures.Pruett.AngleDegrees);
        Assert.Null(branch.Measures.Pruett.RadiusMillimetres);
        Assert.Matches("^The canal turns by .*°, less than the 15° from which this method is used.$", branch.Measures.Pruett.WhyNone!);
    }

    [Fact]
    public void Needs_a_scale_for_a_radius_and_not_for_an_angle()
    {
        var pair = PhantomPair.Make(851, new PairOptions { Kind = ToothKind.LowerPremolar, Residual = 0, Tooth = new ToothOptions { CurveDegrees = 32, CurveRadiusMillimetres = 8 } });

        var branch = CanalTracer.Trace(pair.Before.Radiograph, null, pair.Clicks(1)[0]).Value;

        Assert.NotNull(branch.Measures.Pruett.AngleDegrees);
        Assert.Null(branch.Measures.Pruett.RadiusMillimetres);
        Assert.Equal("A radius needs the film's scale.", branch.Measures.Pruett.WhyNone);
    }

    [Fact]
    public void Comma_or_point_in_the_machine_s_language_changes_nothing()
    {
        var before = CultureInfo.CurrentCulture;
        var (_, usual) = Traced(861, new ToothOptions());
        try
        {
            var comma = (CultureInfo)CultureInfo.InvariantCulture.Clone();
            comma.NumberFormat.NumberDecimalSeparator = ",";
            CultureInfo.CurrentCulture = comma;
            var (_, german) = Traced(861, new ToothOptions());

            Assert.Equal(usual.Measures.Length, german.Measures.Length);
            Assert.Equal(usual.Measures.Pruett.WhyNone, german.Measures.Pruett.WhyNone);
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    private static (PhantomPair Pair, TracedBranch Branch) Traced(int seed, ToothOptions tooth, ToothKind kind = ToothKind.LowerPremolar)
    {
        var pair = PhantomPair.Make(seed, new PairOptions { Kind = kind, Residual = 0, Tooth = tooth with { Splits = false } });
        var scale = Calibration.From(pair.Before.Geometry.PixelSizeAtTooth, CalibrationSource.Entered).Value;
        return (pair, CanalTracer.Trace(pair.Before.Radiograph, scale, pair.Clicks(1)[0]).Value);
    }
}
