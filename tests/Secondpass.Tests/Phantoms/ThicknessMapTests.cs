using Secondpass.Phantoms.Anatomy;
using Secondpass.Phantoms.Contents;
using Secondpass.Phantoms.Imaging;

namespace Secondpass.Tests.Phantoms;

public sealed class ThicknessMapTests
{
    // Volume = sum over pixels of depth along z times the pixel's shadow at the filling's depth; the filling is thin against the distances.
    [Theory]
    [InlineData(0, 0)]
    [InlineData(12, 0)]
    [InlineData(-8, 10)]
    public void Thickness_summed_over_the_film_is_the_volume_of_the_filling(double horizontal, double vertical)
    {
        foreach (var kind in Enum.GetValues<ToothKind>())
        {
            var tooth = PhantomTooth.Build(kind, 4, new ToothOptions { Splits = false, Voids = 0 });
            var geometry = FilmGeometry.For(tooth) with { HorizontalDegrees = horizontal, VerticalDegrees = vertical };
            foreach (var (name, map) in FilmSimulator.FillingThickness(tooth, geometry, Residue.Everything(tooth)))
            {
                var filling = tooth.Canal(name).Filling!;
                var middle = filling.SectionAt((filling.FromY + filling.ToY) / 2);
                Assert.Equal(filling.Volume(), VolumeOn(map, geometry, middle.Z), filling.Volume() * 0.01);
            }
        }
    }

    [Fact]
    public void What_trunk_and_branch_share_counts_once()
    {
        var tooth = PhantomTooth.Build(ToothKind.LowerPremolar, 7, new ToothOptions { Splits = true, Voids = 0, ShortMillimetres = 0.5 });
        var geometry = FilmGeometry.For(tooth);
        var maps = FilmSimulator.FillingThickness(tooth, geometry, Residue.Everything(tooth));
        var (trunk, branch) = (tooth.Canal("C").Filling!, tooth.Canal("L").Filling!);

        // The union by counting cubes of 0.03 mm.
        const double step = 0.03;
        var cubes = 0;
        for (var y = trunk.FromY + (step / 2); y < Math.Max(trunk.ToY, branch.ToY); y += step)
        {
            for (var x = -6.0; x < 6; x += step)
            {
                for (var z = -4.0; z < 4; z += step)
                {
                    cubes += Holds(trunk, x, y, z) || Holds(branch, x, y, z) ? 1 : 0;
                }
            }
        }

        var union = cubes * step * step * step;
        var seen = VolumeOn(maps["C"], geometry, 0) + VolumeOn(maps["L"], geometry, 0);

        Assert.True(trunk.Volume() + branch.Volume() > union * 1.02, "they share something");
        Assert.Equal(union, seen, union * 0.015);
    }

    [Fact]
    public void Outside_the_part_kept_there_is_nothing()
    {
        var tooth = PhantomTooth.Build(ToothKind.UpperIncisor, 4);
        var map = FilmSimulator.FillingThickness(tooth, FilmGeometry.For(tooth), Residue.Everything(tooth))["C"];

        Assert.Equal(0, map[0, 0]);
        Assert.Equal(0, map[899, 1299]);
        Assert.True(map.Width < 200 && map.Height < 600);
        Assert.Equal(map.Values[5 + (map.Width * 7)], map[map.Left + 5, map.Top + 7]);
    }

    private static bool Holds(Column solid, double x, double y, double z)
    {
        if (y < solid.FromY || y > solid.ToY)
        {
            return false;
        }

        var section = solid.SectionAt(y);
        return Math.Pow((x - section.X) / section.HalfX, 2) + Math.Pow((z - section.Z) / section.HalfZ, 2) < 1;
    }

    private static double VolumeOn(ThicknessMap map, FilmGeometry geometry, double depth)
    {
        // A pixel's shadow at that depth, from two rays one pixel apart.
        double sum = 0;
        map.ForEach((place, thickness) => sum += thickness / geometry.RayAt(place.X, place.Y).Slant);
        var (a, b) = (geometry.RayAt(400, 600), geometry.RayAt(500, 600));
        var shadow = Math.Abs(a.X0 + (a.Kx * depth) - b.X0 - (b.Kx * depth)) / 100;
        return sum * shadow * shadow;
    }
}
