using CsCheck;
using Secondpass.Domain.Films;
using Secondpass.Phantoms.Imaging;

namespace Secondpass.Tests.Phantoms;

public sealed class FilmGeometryTests
{
    private static readonly Gen<FilmGeometry> Geometries =
        from distance in Gen.Double[250, 400]
        from depth in Gen.Double[4, 20]
        from horizontal in Gen.Double[-30, 30]
        from vertical in Gen.Double[-20, 20]
        from rotation in Gen.Double[-180, 180]
        from shift in Gen.Double[-200, 200]
        from up in Gen.Bool
        from mirrored in Gen.Bool
        select new FilmGeometry
        {
            SourceToTooth = distance,
            ToothToFilm = depth,
            HorizontalDegrees = horizontal,
            VerticalDegrees = vertical,
            RotationDegrees = rotation,
            ShiftX = shift,
            ShiftY = -shift / 2,
            ApexUp = up,
            Mirrored = mirrored,
        };

    [Fact]
    public void The_ray_to_the_place_where_a_point_falls_goes_through_the_point() =>
        Gen.Select(Geometries, Gen.Double[-10, 10], Gen.Double[-10, 20], Gen.Double[-6, 6]).Sample((geometry, x, y, z) =>
        {
            var place = geometry.Project(x, y, z);
            var ray = geometry.RayAt(place.X, place.Y);

            // Rays are kept in single precision: 1e-3 mm is a thirtieth of a pixel.
            return Math.Abs(ray.X0 + (ray.Kx * z) - x) < 1e-3 && Math.Abs(ray.Y0 + (ray.Ky * z) - y) < 1e-3;
        });

    // Similar triangles: a point on the axis at depth z is thrown from the source (−S·sin h, −S·cos h) onto the film at depth d.
    [Theory]
    [InlineData(5, 3.0)]
    [InlineData(-12, 2.0)]
    [InlineData(20, -4.0)]
    public void Turning_the_tube_moves_two_depths_apart_by_the_closed_form(double degrees, double z)
    {
        var straight = new FilmGeometry { AimY = 0 };
        var turned = straight with { HorizontalDegrees = degrees };
        var h = double.DegreesToRadians(degrees);
        var (sine, cosine) = (300 * Math.Sin(h), 300 * Math.Cos(h));
        var expected = ((-sine * ((z - 10) / (z + cosine))) - (sine * 10 / cosine)) / 0.03;

        var apart = turned.Project(0, 0, z).X - turned.Project(0, 0, 0).X;

        Assert.Equal(expected, apart, 6);
        Assert.Equal(0, straight.Project(0, 0, z).X - straight.Project(0, 0, 0).X, 9);

        // Things nearer the film move against the side to which the rays lean only by depth times tangent, in first order.
        Assert.Equal(-z * Math.Tan(h) / 0.03 * (310.0 / 300), apart, Math.Abs(apart) * 0.05);
    }

    [Fact]
    public void Ten_millimetres_at_the_tooth_are_magnified_by_the_ratio_of_distances()
    {
        var geometry = new FilmGeometry { SourceToTooth = 300, ToothToFilm = 15, PixelSize = 0.03 };

        var pixels = geometry.Project(5, 2, 0).DistanceTo(geometry.Project(-5, 2, 0));

        Assert.Equal(10 * 315.0 / 300 / 0.03, pixels, 6);
        Assert.Equal(10, pixels * geometry.PixelSizeAtTooth, 9);
    }

    [Fact]
    public void A_film_turned_by_a_quarter_shows_clockwise_what_pointed_right()
    {
        var geometry = new FilmGeometry { AimY = 0, RotationDegrees = 90 };
        var middle = geometry.Project(0, 0, 0);
        var right = geometry.Project(1, 0, 0);

        Assert.Equal(new PixelPoint(449.5, 649.5), middle);
        Assert.Equal(middle.X, right.X, 9);
        Assert.True(right.Y > middle.Y);
    }

    [Fact]
    public void Apices_point_up_and_sides_change_only_when_asked()
    {
        var plain = new FilmGeometry { AimY = 0 };

        Assert.True(plain.Project(0, 5, 0).Y > plain.Project(0, 0, 0).Y);
        Assert.True((plain with { ApexUp = true }).Project(0, 5, 0).Y < plain.Project(0, 0, 0).Y);
        Assert.True(plain.Project(5, 0, 0).X > plain.Project(0, 0, 0).X);
        Assert.True((plain with { Mirrored = true }).Project(5, 0, 0).X < plain.Project(0, 0, 0).X);
    }
}
