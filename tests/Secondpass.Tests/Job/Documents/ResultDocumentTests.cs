using CsCheck;
using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;
using Secondpass.Job.Documents;

namespace Secondpass.Tests.Job.Documents;

public sealed class ResultDocumentTests
{
    private static readonly Calibration Scale = Calibration.From(0.03, CalibrationSource.Entered).Value;

    [Fact]
    public void Measurements_are_told_in_millimetres_from_the_canals_end()
    {
        var canal = Assert.Single(MeasureDocument.From([Branch("MB1")], Scale, ["A notice."]).Canals);

        Assert.Equal(18.0, canal.LengthMm);
        Assert.Equal(600, canal.LengthPx);
        Assert.Equal([17.9, 18.1], canal.Intervals["length_mm"]);
        Assert.Equal(1.235, canal.FillEndMm);
        Assert.Equal(new[] { new[] { 18.0, 0.9, 0.84, 0.96 }, [0, 0.6, 0.54, 0.66] }, canal.FillingWidth);
        Assert.Equal(new[] { new[] { 12.0, 11.4, 0.15, 25, 11, 39 } }, canal.Voids);
        Assert.Equal(0.35, canal.OffCentreMm);
        Assert.True(canal.OffCentreIsSign);
        Assert.Null(canal.PruettDeg);
        Assert.Equal("Too straight.", canal.PruettWhyNone);
        Assert.DoesNotContain("pruett_deg", canal.Intervals.Keys);
    }

    [Fact]
    public void Without_a_scale_nothing_is_told_in_millimetres_and_shares_still_are()
    {
        var branch = Branch("MB1");
        var unscaled = branch with { Measures = branch.Measures with { Length = null, FilledLength = null, FillingEndToCanalEnd = null, OffCentre = null } };

        var canal = Assert.Single(MeasureDocument.From([unscaled], scale: null, []).Canals);

        Assert.Null(canal.LengthMm);
        Assert.Empty(canal.FillingWidth);
        Assert.Empty(canal.Voids);
        Assert.Equal(90, canal.FilledPercent);
        Assert.Equal(["schneider_deg"], canal.Intervals.Keys);
    }

    [Fact]
    public void Branches_stand_behind_the_canal_that_they_leave()
    {
        var trunk = Branch("MB1") with { Branches = [Branch("MB2") with { Branches = [Branch("MB3")] }] };

        Assert.Equal(["MB1", "MB2", "MB3", "P"], MeasureDocument.From([trunk, Branch("P")], Scale, []).Canals.Select(canal => canal.Name));
    }

    [Fact]
    public void Shares_are_told_as_estimated_even_below_none_and_above_all()
    {
        var canal = Assert.Single(CompareDocument.From(Comparison(Residue(Branch("MB1"))), Scale, []).Canals);

        Assert.Equal("ok", canal.Status);
        Assert.Equal(-1.5, canal.AreaPercent);
        Assert.Equal([-4, 2], canal.AreaInterval!);
        Assert.Equal(101.26, canal.MassPercent);
        Assert.Equal(0.045, canal.DetectionLimitMm2);
        Assert.Equal(0.1235, canal.OverlapShare);
        Assert.Equal(new[] { new[] { 18.0, 2.5, -1 }, [0, 2.75, -1.25] }, canal.DisplacementPx);
    }

    [Fact]
    public void A_third_without_filling_before_is_null_not_zero()
    {
        var canal = Assert.Single(CompareDocument.From(Comparison(Residue(Branch("MB1"))), Scale, []).Canals);

        Assert.NotNull(canal.Thirds.Coronal);
        Assert.Null(canal.Thirds.Apical);
        Assert.Contains("\"apical\":null", Text(CompareDocument.From(Comparison(Residue(Branch("MB1"))), Scale, [])), StringComparison.Ordinal);
    }

    [Fact]
    public void A_refused_branch_says_why_and_has_no_number_that_could_be_taken_for_a_result()
    {
        var refused = Residue(Branch("MB1")) with
        {
            Refused = new Refusal("instrument_in", "An instrument stands in MB1.", "Take a film without it, if one is due anyway."),
            Whole = null,
            Thirds = new Dictionary<CanalThird, ResidueShare>(),
            Displacements = [],
        };

        var canal = Assert.Single(CompareDocument.From(Comparison(refused), Scale, []).Canals);

        Assert.Equal("refused", canal.Status);
        Assert.Equal("An instrument stands in MB1.", canal.Reason);
        Assert.Null(canal.AreaPercent);
        Assert.Null(canal.MassInterval);
        Assert.Null(canal.DetectionLimitMm2);
        Assert.Null(canal.Thirds.Coronal);
    }

    [Fact]
    public void Films_that_cannot_be_compared_give_reason_and_remedy_and_no_canals()
    {
        var document = CompareDocument.Refused(new Refusal("films_of_two_teeth", "These are two teeth.", "Choose the film of the same tooth."), ["A notice."]);

        Assert.Equal(
            """{"schema":1,"registration":{"ok":false,"reason":"These are two teeth.","remedy":"Choose the film of the same tooth.","matrix":null,"self_rms_px":null},"canals":[],"notices":["A notice."],"moved":null}""" + "\n",
            Text(document));
    }

    [Fact]
    public void A_refusal_is_told_with_its_figures() =>
        Assert.Equal(
            """{"schema":1,"refusal":{"code":"no_canal_found","reason":"No canal between 3 and 4 mm².","remedy":"Mark “again”.","evidence":{"contrast":0.5}}}""" + "\n",
            Text(RefusalDocument.From(new Refusal("no_canal_found", "No canal between 3 and 4 mm².", "Mark “again”.", new Dictionary<string, double> { ["contrast"] = 0.5 }))));

    // Law: rounding never moves a value out of its interval, whatever the numbers.
    [Fact]
    public void A_rounded_value_stays_inside_its_rounded_interval() =>
        Gen.Select(Gen.Double[-200, 200], Gen.Double[0, 5], Gen.Double[0, 5]).Sample((value, below, above) =>
        {
            var share = new ResidueShare(new Estimate(value, new Interval(value - below, value + above)), null);
            var third = ThirdDocument.From(share);
            return third.AreaInterval![0] <= third.AreaPercent && third.AreaPercent <= third.AreaInterval[1] && Math.Abs(third.AreaPercent!.Value - value) <= 0.005 + 1e-9;
        });

    [Fact]
    public void Documents_are_written_alike_whatever_the_machines_language()
    {
        var commas = (CultureInfo)CultureInfo.InvariantCulture.Clone();
        commas.NumberFormat.NumberDecimalSeparator = ",";
        var before = CultureInfo.CurrentCulture;
        var plain = Text(MeasureDocument.From([Branch("MB1")], Scale, []));
        try
        {
            CultureInfo.CurrentCulture = commas;
            Assert.Equal(plain, Text(MeasureDocument.From([Branch("MB1")], Scale, [])));
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    internal static TracedBranch Branch(string name) => new(
        name,
        new CanalPath([new PixelPoint(300, 400), new PixelPoint(300, 1000)]),
        0,
        new FillingProfile(
            [
                new FillingSample(0, Estimate.Within(30, 2), 0, 40),
                new FillingSample(300, null, 0, 0),
                new FillingSample(600, Estimate.Within(20, 2), 0, 40),
            ],
            0,
            Estimate.Within(540, 3)),
        new BranchMeasures(
            600,
            Estimate.Within(18, 0.1),
            Estimate.Within(16.2, 0.2),
            90,
            Estimate.Within(1.23456, 0.1),
            Estimate.Within(12.345, 2),
            new PruettCurve(null, null, "Too straight."),
            new OffCentreSign(Estimate.Within(0.35, 0.1), 4, true, true),
            [new FillingVoid(200, 220, 5, Estimate.Within(25, 14))]),
        []);

    internal static BranchResidue Residue(TracedBranch branch)
    {
        var share = new ResidueShare(new Estimate(-1.5, new Interval(-4, 2)), new Estimate(101.256, new Interval(99, 104)));
        return new BranchResidue(
            branch,
            null,
            share,
            new Dictionary<CanalThird, ResidueShare> { [CanalThird.Coronal] = share },
            [new Displacement(0, 2.5, -1), new Displacement(600, 2.75, -1.25)],
            50,
            0.12345,
            [new StripSample(0, 30, -2, 2, 0.1, CannotTell: false)]);
    }

    internal static Comparison Comparison(params BranchResidue[] branches) => new(
        new FilmRegistration([1, 0, 2.5, 0, 1, -1, 0, 0, 1], 0.21, false, 98),
        branches,
        new Lazy<ComparisonPicture>(new ComparisonPicture(1, 1, [0], [0])),
        ["Simulated."]);

    private static string Text<T>(T document) => System.Text.Encoding.UTF8.GetString(DocumentJson.Write(document));
}
