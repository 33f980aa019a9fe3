using Secondpass.Phantoms.Anatomy;
using Secondpass.Phantoms.Contents;
using Secondpass.Phantoms.Imaging;
using Secondpass.Phantoms.Truth;

namespace Secondpass.Tests.Phantoms;

public sealed class PhantomToothTests
{
    public static TheoryData<ToothKind> Kinds => [.. Enum.GetValues<ToothKind>()];

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Filling_lies_inside_its_canal_and_the_canal_inside_its_root(ToothKind kind)
    {
        for (var seed = 1; seed <= 20; seed++)
        {
            var tooth = PhantomTooth.Build(kind, seed);
            foreach (var canal in tooth.FilledCanals)
            {
                var root = tooth.Roots.Single(root => root.Name == canal.Root).Solid;
                for (var y = canal.OwnFromY; y <= Math.Min(canal.EndY, canal.Filling!.ToY); y += 0.1)
                {
                    var (lumen, filling) = (canal.Lumen.SectionAt(y), canal.Filling.SectionAt(y));
                    Assert.True(filling.HalfX <= lumen.HalfX + 1e-6 && filling.HalfZ <= lumen.HalfZ + 1e-6, $"{kind} {seed} {canal.Name} at {y}");
                    Assert.Equal(lumen.X, filling.X, 0.02);

                    // Above the split of the roots the trunk holds the canal.
                    var wall = root.SectionAt(y);
                    if (y > root.FromY + 2.5)
                    {
                        Assert.True(Math.Abs(lumen.X - wall.X) + lumen.HalfX < wall.HalfX, $"{kind} {seed} {canal.Name} at {y}: {Math.Abs(lumen.X - wall.X) + lumen.HalfX} of {wall.HalfX}");
                    }
                }
            }
        }
    }

    [Fact]
    public void Kinds_have_the_roots_and_canals_of_their_anatomy()
    {
        static string Names(ToothKind kind, ToothOptions options) =>
            string.Join(' ', PhantomTooth.Build(kind, 4, options).Canals.Select(canal => canal.Parent is null ? canal.Name : $"{canal.Parent}>{canal.Name}"));
        var plain = new ToothOptions { Splits = false };
        var split = new ToothOptions { Splits = true };

        Assert.Equal("C", Names(ToothKind.UpperIncisor, plain));
        Assert.Equal("C C>L", Names(ToothKind.LowerPremolar, split));
        Assert.Equal("B P", Names(ToothKind.UpperPremolar, plain));
        Assert.Equal("MB ML D D>DL", Names(ToothKind.LowerMolar, split));
        Assert.Equal("MB1 MB2 DB P", Names(ToothKind.UpperMolar, plain));
    }

    [Fact]
    public void A_missed_canal_stays_unfilled_and_its_neighbour_lies_off_the_middle_of_the_root()
    {
        var tooth = PhantomTooth.Build(ToothKind.UpperMolar, 9, new ToothOptions { SecondCanalMissed = true });
        var geometry = FilmGeometry.For(tooth);
        var truth = PairTruth.Of(tooth, geometry, geometry, Residue.Nothing);

        Assert.False(tooth.Canal("MB2").IsFilled);
        Assert.Null(truth.Branch("MB2").Whole);

        // 0.3 mm is the published sign; twice the offset of 0.35 mm is what the two sides differ by.
        var off = truth.Branch("MB1").OnBefore.OffCentreMillimetres(truth.Branch("MB1").OnBefore.Path.LengthPixels * 0.6);
        Assert.InRange(Math.Abs(off!.Value), 0.3, 1.0);
    }

    // On a film far from the source and close to the tooth the picture is a parallel projection along z, so the arc is the one asked for.
    [Theory]
    [InlineData(20, 8)]
    [InlineData(35, 6)]
    [InlineData(10, 15)]
    public void The_curve_on_the_film_has_the_angle_and_the_radius_asked_for(double degrees, double radius)
    {
        var tooth = PhantomTooth.Build(
            ToothKind.LowerPremolar, 5, new ToothOptions { CurveDegrees = degrees, CurveRadiusMillimetres = radius, Splits = false, HiddenCurveShare = 0.4 });
        var geometry = FilmGeometry.For(tooth) with { SourceToTooth = 1e6, ToothToFilm = 0 };
        var path = new BranchOnFilm(tooth, geometry, "C").Path;
        double Turned(double from, double to)
        {
            var (a, b) = (path.DirectionAt(from, 5), path.DirectionAt(to, 5));
            return double.RadiansToDegrees(Math.Abs(Math.Atan2((a.X * b.Y) - (a.Y * b.X), (a.X * b.X) + (a.Y * b.Y))));
        }

        Assert.Equal(degrees, Turned(20, path.LengthPixels - 8), degrees * 0.02);

        // Within the arc, direction turns by one radian per radius of length.
        var arcPixels = radius * double.DegreesToRadians(degrees) / geometry.PixelSizeAtTooth;
        var middle = Enumerable.Range(0, (int)path.LengthPixels).First(level => Turned(20, level + 1) > degrees / 2);
        Assert.Equal(degrees / 2, Turned(middle - (arcPixels / 4), middle + (arcPixels / 4)), degrees * 0.03);
    }

    [Fact]
    public void A_curve_towards_the_film_makes_the_canal_longer_than_it_seems()
    {
        var tooth = PhantomTooth.Build(ToothKind.LowerPremolar, 5, new ToothOptions { CurveDegrees = 35, HiddenCurveShare = 1, Splits = false });
        var branch = new BranchOnFilm(tooth, FilmGeometry.For(tooth) with { SourceToTooth = 1e6, ToothToFilm = 0 }, "C");

        Assert.True(branch.SpatialLengthMillimetres > branch.LengthMillimetres + 0.1);
    }
}
