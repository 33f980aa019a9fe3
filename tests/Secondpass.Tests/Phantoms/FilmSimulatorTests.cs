using Secondpass.Domain.Films;
using Secondpass.Phantoms.Anatomy;
using Secondpass.Phantoms.Contents;
using Secondpass.Phantoms.Imaging;
using Secondpass.Phantoms.Matter;

namespace Secondpass.Tests.Phantoms;

public sealed class FilmSimulatorTests
{
    private static readonly Exposure Noiseless = new()
    {
        PhotonsPerPixel = 1e14,
        ElectronicNoise = 0,
        ScatterShare = 0,
        BlurMillimetres = 0,
        NoiseSpreadPixels = 0,
        ClippedShare = 0,
        Gamma = 1,
        Bits = 16,
    };

    private readonly PhantomTooth tooth = PhantomTooth.Build(ToothKind.LowerPremolar, 12, new ToothOptions { Splits = false, Voids = 0, Crown = CrownRestoration.Composite });

    [Fact]
    public void The_same_seed_makes_the_same_film()
    {
        var geometry = FilmGeometry.For(tooth);
        var again = PhantomTooth.Build(ToothKind.LowerPremolar, 12, new ToothOptions { Splits = false, Voids = 0, Crown = CrownRestoration.Composite });

        var first = FilmSimulator.Render(tooth, geometry, new Exposure(), PhantomContents.Before(tooth), 5).Radiograph;
        var second = FilmSimulator.Render(again, geometry, new Exposure(), PhantomContents.Before(again), 5).Radiograph;
        var other = FilmSimulator.Render(tooth, geometry, new Exposure(), PhantomContents.Before(tooth), 6).Radiograph;

        Assert.Equal(first.Sha256, second.Sha256);
        Assert.True(first.Pixels.SequenceEqual(second.Pixels));
        Assert.NotEqual(first.Sha256, other.Sha256);
    }

    // Beer's law by hand: where filling is taken out and water stands instead, optical depth falls by what the thickness map says.
    [Fact]
    public void Where_filling_gives_way_to_water_the_film_darkens_as_Beers_law_says()
    {
        var geometry = FilmGeometry.For(tooth);
        var hard = Noiseless with { Beam = Spectrum.Filtered(65, 2, 1) };
        var everything = new PhantomContents { Residue = Residue.Everything(tooth), Medium = CanalMedium.Irrigant };
        var nothing = new PhantomContents { Residue = Residue.Nothing, Medium = CanalMedium.Irrigant };
        var full = FilmSimulator.Render(tooth, geometry, hard, everything, 1);
        var empty = FilmSimulator.Render(tooth, geometry, hard, nothing, 1);

        // One energy, grey linear in optical depth. The lightest place (metal or enamel) and the darkest (air) are the same on
        // both films, so grey means the same on both.
        var energy = hard.Beam.EnergiesKeV[0];
        var perMillimetre = Materials.Filling.PerMillimetre(energy) - Materials.Water.PerMillimetre(energy);
        var differences = new List<(double Grey, double Depth)>();
        full.FillingThickness["C"].ForEach((place, thickness) =>
        {
            if (thickness > 0.2)
            {
                var at = ((int)place.Y * geometry.Width) + (int)place.X;
                differences.Add((full.Radiograph.Pixels[at] - empty.Radiograph.Pixels[at], thickness * perMillimetre));
            }
        });
        var perDepth = differences.Sum(pair => pair.Grey * pair.Depth) / differences.Sum(pair => pair.Depth * pair.Depth);

        Assert.True(differences.Count > 2000);
        Assert.All(differences, pair => Assert.Equal(pair.Depth * perDepth, pair.Grey, 0.01 * 65535));
    }

    [Fact]
    public void A_quarter_of_the_photons_doubles_the_noise()
    {
        var quiet = new Exposure { ElectronicNoise = 0, Bits = 16, Scale = GreyScale.Signal, Gamma = 1 };

        Assert.Equal(2, Noise(quiet with { PhotonsPerPixel = 1000 }).Deviation / Noise(quiet with { PhotonsPerPixel = 4000 }).Deviation, 0.06);
    }

    [Fact]
    public void Light_that_spreads_in_the_sensor_makes_neighbouring_pixels_noise_alike()
    {
        var exposure = new Exposure { ElectronicNoise = 0, Bits = 16, Scale = GreyScale.Signal, Gamma = 1 };

        Assert.InRange(Noise(exposure with { NoiseSpreadPixels = 0 }).Alike, -0.03, 0.03);

        // Two Gaussians one pixel apart overlap by exp(−1/(4σ²)): 0.779 for σ = 1.
        Assert.InRange(Noise(exposure with { NoiseSpreadPixels = 1 }).Alike, 0.74, 0.81);
    }

    [Theory]
    [InlineData(8, 255)]
    [InlineData(12, 4095)]
    [InlineData(16, 65535)]
    public void The_depth_asked_for_is_used_to_its_ends(int bits, int greatest)
    {
        var film = FilmSimulator.Render(tooth, FilmGeometry.For(tooth), new Exposure { Bits = bits }, PhantomContents.Before(tooth), 1).Radiograph;

        Assert.Equal(greatest, film.GreatestValue);
        Assert.Equal((0, greatest), (film.Pixels.ToArray().Min(), film.Pixels.ToArray().Max()));
        Assert.Equal(FilmFormat.Simulated, film.Format);
    }

    [Fact]
    public void An_inverted_film_is_the_film_subtracted_from_white()
    {
        var geometry = FilmGeometry.For(tooth);
        var plain = FilmSimulator.Render(tooth, geometry, new Exposure(), PhantomContents.Before(tooth), 1).Radiograph.Pixels.ToArray();
        var inverted = FilmSimulator.Render(tooth, geometry, new Exposure { Inverted = true }, PhantomContents.Before(tooth), 1).Radiograph.Pixels.ToArray();

        Assert.All(plain.Zip(inverted).Where((_, i) => i % 97 == 0), pair => Assert.InRange(pair.First + pair.Second, 4094, 4096));
    }

    [Fact]
    public void A_standing_instrument_a_clamp_and_a_radiopaque_dressing_are_lighter_than_the_empty_canal()
    {
        var geometry = FilmGeometry.For(tooth);
        var empty = PhantomContents.After(Residue.Nothing);
        var middle = PairPath(geometry);
        double Lightness(PhantomContents contents) => Grey(contents, geometry, middle);

        var bare = Lightness(empty);
        Assert.True(Lightness(empty with { Instruments = [new StandingInstrument("C", tooth.Canal("C").EndY)] }) > bare + 0.1);
        Assert.True(Lightness(empty with { Refilled = ["C"] }) > bare + 0.1);

        // Plain calcium hydroxide is less radiopaque than dentine; with barium sulfate it is more.
        var dressed = Lightness(empty with { Medium = CanalMedium.Dressing });
        Assert.True(dressed > bare + 0.02);
        Assert.True(Lightness(empty with { Medium = CanalMedium.RadiopaqueDressing }) > dressed + 0.05);

        var neck = geometry.Project(0, -1.4, 5.2);
        Assert.True(Grey(empty with { Clamp = true }, geometry, neck) > Grey(empty, geometry, neck) + 0.15);
    }

    private PixelPoint PairPath(FilmGeometry geometry)
    {
        var canal = tooth.Canal("C");
        var y = canal.OrificeY + 4;
        var section = canal.Lumen.SectionAt(y);
        return geometry.Project(section.X, y, section.Z);
    }

    private double Grey(PhantomContents contents, FilmGeometry geometry, PixelPoint place)
    {
        // A clamp or an instrument may be the lightest thing on the film, so grey is counted from air (0) to the neighbour's dentine (1).
        var film = FilmSimulator.Render(tooth, geometry, Noiseless, contents, 1).Radiograph;
        double At(PixelPoint at) => film.Pixels[((int)Math.Round(at.Y, MidpointRounding.AwayFromZero) * film.Width) + (int)Math.Round(at.X, MidpointRounding.AwayFromZero)];
        var air = At(geometry.Project(-4, -10.5, 0));
        var dentine = At(geometry.Project(-7, 4, 0));
        return (At(place) - air) / (dentine - air);
    }

    private (double Deviation, double Alike) Noise(Exposure exposure)
    {
        var geometry = FilmGeometry.For(tooth) with { Width = 500, Height = 500 };
        var first = FilmSimulator.Render(tooth, geometry, exposure, PhantomContents.Before(tooth), 1).Radiograph;
        var second = FilmSimulator.Render(tooth, geometry, exposure, PhantomContents.Before(tooth), 2).Radiograph;
        var (square, beside, count) = (0.0, 0.0, 0);
        for (var row = 300; row < 450; row++)
        {
            for (var column = 20; column < 470; column++)
            {
                double At(int c) => first.Pixels[(row * 500) + c] - second.Pixels[(row * 500) + c];
                square += At(column) * At(column);
                beside += At(column) * At(column + 1);
                count++;
            }
        }

        return (Math.Sqrt(square / count), beside / square);
    }
}
