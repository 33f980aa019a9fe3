using Secondpass.Domain.Films;
using Secondpass.Phantoms.Anatomy;
using Secondpass.Phantoms.Contents;
using Secondpass.Phantoms.Imaging;
using Secondpass.Phantoms.Truth;

namespace Secondpass.Tests.Phantoms;

public sealed class ResidueTests
{
    public static TheoryData<ToothKind> Kinds => [.. Enum.GetValues<ToothKind>()];

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Residue_is_nowhere_thicker_than_the_filling_was(ToothKind kind)
    {
        for (var seed = 1; seed <= 2; seed++)
        {
            var tooth = PhantomTooth.Build(kind, seed);
            var geometry = FilmGeometry.For(tooth) with { HorizontalDegrees = 8, VerticalDegrees = -6 };
            var filling = FilmSimulator.FillingThickness(tooth, geometry, Residue.Everything(tooth));
            foreach (var share in new[] { 0.03, 0.3, 0.8 })
            {
                var left = FilmSimulator.FillingThickness(tooth, geometry, Residue.Drawn(tooth, seed, share));
                foreach (var (name, map) in filling)
                {
                    Assert.True(map.Values.Zip(left[name].Values).All(pair => pair.Second <= pair.First + 1e-6f), $"{kind} {seed} {name} {share}");
                    Assert.True(left[name].Sum() > 0);
                }
            }
        }
    }

    // The film samples patches every 0.0125 mm; the cells of the volume are 0.025 mm high, a 48th of a turn wide, a 32nd of the radius deep.
    [Theory]
    [InlineData(0.02)]
    [InlineData(0.10)]
    [InlineData(0.30)]
    [InlineData(0.60)]
    [InlineData(0.90)]
    public void Residue_fills_the_share_of_volume_asked_for(double share)
    {
        foreach (var kind in Enum.GetValues<ToothKind>())
        {
            var tooth = PhantomTooth.Build(kind, 2, new ToothOptions { Splits = false });
            var geometry = FilmGeometry.For(tooth);
            var filling = FilmSimulator.FillingThickness(tooth, geometry, Residue.Everything(tooth));
            var left = FilmSimulator.FillingThickness(tooth, geometry, Residue.Drawn(tooth, 3, share));
            Assert.All(filling, branch => Assert.Equal(share, left[branch.Key].Sum() / branch.Value.Sum(), 0.003 + (0.015 * share)));
        }
    }

    [Fact]
    public void Everything_is_a_hundred_and_nothing_is_zero_in_every_third()
    {
        var tooth = PhantomTooth.Build(ToothKind.LowerMolar, 6, new ToothOptions { Splits = true, Voids = 2 });
        var geometry = FilmGeometry.For(tooth);
        var all = PairTruth.Of(tooth, geometry, geometry, Residue.Everything(tooth));
        var none = PairTruth.Of(tooth, geometry, geometry, Residue.Nothing);

        Assert.All(all.Branches.SelectMany(branch => branch.Thirds.Values.Append(branch.Whole!)), truth => Assert.Equal(100, truth.MassPercent, 9));
        Assert.All(none.Branches.SelectMany(branch => branch.Thirds.Values.Append(branch.Whole!)), truth => Assert.Equal((0, 0), (truth.MassPercent, truth.AreaPercent)));
    }

    [Fact]
    public void The_thirds_weighed_by_their_filling_make_up_the_whole()
    {
        var tooth = PhantomTooth.Build(ToothKind.UpperMolar, 2, new ToothOptions { SecondCanalMissed = false });
        var geometry = FilmGeometry.For(tooth);
        var truth = PairTruth.Of(tooth, geometry, geometry, Residue.Drawn(tooth, 8, 0.2));

        Assert.All(truth.Branches, branch =>
        {
            Assert.Equal(branch.Whole!.FillingMassPixels, branch.Thirds.Values.Sum(third => third.FillingMassPixels), 3);
            Assert.Equal(
                branch.Whole.MassPercent,
                branch.Thirds.Values.Sum(third => third.MassPercent * third.FillingMassPixels) / branch.Whole.FillingMassPixels,
                6);
        });
    }

    [Fact]
    public void A_plug_in_the_apical_third_is_found_there_and_nowhere_else()
    {
        var tooth = PhantomTooth.Build(ToothKind.LowerPremolar, 3, new ToothOptions { Splits = false, ShortMillimetres = 0.5, Voids = 0 });
        var canal = tooth.Canal("C");
        var geometry = FilmGeometry.For(tooth);
        var residue = new Residue(new Dictionary<string, BranchResidueShape>
        {
            ["C"] = new([Residue.Plug(canal.EndY - 3, canal.EndY)], Inverted: false),
        });
        var truth = PairTruth.Of(tooth, geometry, geometry, residue).Branch("C");

        Assert.Equal(0, truth.Thirds[CanalThird.Coronal].MassPercent);
        Assert.Equal(0, truth.Thirds[CanalThird.Middle].MassPercent);
        Assert.InRange(truth.Thirds[CanalThird.Apical].MassPercent, 25, 99);
    }

    [Fact]
    public void A_film_of_residue_less_than_a_tenth_of_a_millimetre_thick_counts_to_the_mass_but_not_to_the_area()
    {
        var tooth = PhantomTooth.Build(ToothKind.LowerPremolar, 3, new ToothOptions { Splits = false, Voids = 0 });
        var canal = tooth.Canal("C");

        // On the wall that faces the film: seen head on, 5 % of the radius thick.
        var residue = new Residue(new Dictionary<string, BranchResidueShape>
        {
            ["C"] = new([new CanalPatch(canal.OrificeY + 5, 2, Math.PI / 2, 0.5, 0.95, 1)], Inverted: false),
        });
        var geometry = FilmGeometry.For(tooth);
        var truth = PairTruth.Of(tooth, geometry, geometry, residue).Branch("C").Whole!;

        Assert.True(truth.MassPercent > 0.1);
        Assert.Equal(0, truth.AreaPercent);
    }

    [Fact]
    public void A_third_without_filling_before_is_missing()
    {
        var tooth = PhantomTooth.Build(ToothKind.LowerPremolar, 3, new ToothOptions { Splits = false, ShortMillimetres = 6 });
        var geometry = FilmGeometry.For(tooth);
        var truth = PairTruth.Of(tooth, geometry, geometry, Residue.Nothing).Branch("C");

        Assert.Equal([CanalThird.Coronal, CanalThird.Middle], truth.Thirds.Keys.Order());
    }
}
