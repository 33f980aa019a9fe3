using Secondpass.Phantoms.Matter;

namespace Secondpass.Tests.Phantoms;

public sealed class MatterTests
{
    public static TheoryData<string> Substances => [.. Materials.All.Select(material => material.Name)];

    [Theory]
    [MemberData(nameof(Substances))]
    public void More_of_any_substance_lets_less_through(string name)
    {
        var material = Materials.All.Single(material => material.Name == name);
        var passed = Enumerable.Range(0, 60).Select(i => Spectrum.Usual.Transmitted((material, 0.05 * i))).ToList();

        Assert.Equal(1, passed[0], 12);
        Assert.All(passed.Zip(passed.Skip(1)), pair => Assert.True(pair.Second < pair.First, name));
    }

    [Theory]
    [MemberData(nameof(Substances))]
    public void Filters_harden_the_beam_so_the_second_millimetre_takes_away_less_than_the_first(string name)
    {
        var material = Materials.All.Single(material => material.Name == name);
        double Depth(double millimetres) => -Math.Log(Spectrum.Usual.Transmitted((material, millimetres)));

        Assert.True(Depth(2) <= 2 * Depth(1));
    }

    // Volumes of 0.20, 0.66, 0.11 and 0.03 g at 0.95, 5.606, 4.5 and 0.95 g/cm³ add up to 0.3843 cm³.
    [Fact]
    public void Filling_has_the_density_that_follows_from_its_parts() =>
        Assert.Equal(2.602, Materials.Filling.GramsPerCubicCentimetre, 3);

    // Katz et al., J Endod 1990;16:211–213: discs of 15 makes, 7.26 and 7.53 mm of aluminium per mm on two film types.
    // Composition: Friedman et al., J Dent Res 1975;54:921–925 (20 % gutta-percha, 66 % zinc oxide, 11 % heavy-metal sulfate)
    // and, for other makes, Braz Oral Res 2005;19(3) (15.2–21.6 % gutta-percha, 69.8–81.9 % zinc oxide).
    [Fact]
    public void Makes_of_filling_lie_on_both_sides_of_the_published_radiopacity_and_the_one_simulated_is_somewhat_below_it()
    {
        var densest = Material.Mixture(
            "densest make", null, (Part("Isoprene"), 0.152), (Part("ZincOxide"), 0.819), (Part("BariumSulfate"), 0.029));
        var thinnest = Material.Mixture(
            "thinnest make", null, (Part("Isoprene"), 0.216), (Part("ZincOxide"), 0.698), (Part("Wax"), 0.086));

        Assert.True(Radiopacity(thinnest) < 7.26, $"{Radiopacity(thinnest)}");
        Assert.True(Radiopacity(densest) > 7.53, $"{Radiopacity(densest)}");

        // The simulated filling is that of 1975: 6.7, 8 to 11 % less than the mean of the makes of 1990.
        Assert.InRange(Radiopacity(Materials.Filling), 0.88 * 7.26, 7.53);

        static Material Part(string name) => name switch
        {
            "Isoprene" => new Material(name, 0.95, (Element.Carbon, 0.8816), (Element.Hydrogen, 0.1184)),
            "Wax" => new Material(name, 0.95, (Element.Carbon, 0.8563), (Element.Hydrogen, 0.1437)),
            "ZincOxide" => new Material(name, 5.606, (Element.Zinc, 0.8034), (Element.Oxygen, 0.1966)),
            _ => new Material(name, 4.5, (Element.Barium, 0.5884), (Element.Sulfur, 0.1374), (Element.Oxygen, 0.2742)),
        };
    }

    // Katz et al., J Endod 1990;16:211–213: dentine 1.0 mm of aluminium per mm; 0.1 allows for density and mineral content.
    [Fact]
    public void Dentine_is_about_as_radiopaque_as_aluminium() =>
        Assert.InRange(Spectrum.Usual.AluminiumEquivalent(Materials.Dentine, 1), 0.9, 1.1);

    [Fact]
    public void A_thicker_filter_leaves_a_harder_beam_whose_lines_still_add_up_to_one()
    {
        static double Mean(Spectrum beam) => beam.EnergiesKeV.Zip(beam.Weights).Sum(line => line.First * line.Second);
        var thin = Spectrum.Filtered(65, 1.5, 6);
        var thick = Spectrum.Filtered(65, 2.5, 6);

        Assert.Equal(1, thin.Weights.Sum(), 12);
        Assert.Equal(1, thick.Weights.Sum(), 12);
        Assert.True(Mean(thick) > Mean(thin) + 0.5);
    }
    // 15 makes: 7.26 and 7.53 mm of aluminium per mm; 3 were asked for (Katz et al., J Endod 1990;16:211–213).
    [Fact]
    public void Makes_of_filling_lie_on_both_sides_of_the_published_mean_and_above_what_is_asked_for()
    {
        var (faint, strong) = (Radiopacity(Materials.FillingOf(0.24, 0, 0.95)), Radiopacity(Materials.FillingOf(0.18, 0.11, 1)));

        Assert.InRange(faint, 3, 7.26);
        Assert.InRange(strong, 7.26, 10);
        Assert.Equal(Radiopacity(Materials.Filling), Radiopacity(Materials.FillingOf(0.23, 0.11, 1)), 1e-9);
    }

    private static double Radiopacity(Material material) => Spectrum.Usual.AluminiumEquivalent(material, 1);
}
