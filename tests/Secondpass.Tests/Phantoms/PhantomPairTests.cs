using Secondpass.Phantoms.Anatomy;
using Secondpass.Phantoms.Truth;

namespace Secondpass.Tests.Phantoms;

public sealed class PhantomPairTests
{
    [Fact]
    public void The_truth_says_where_every_point_of_a_canal_went()
    {
        var pair = PhantomPair.Make(21, new PairOptions { Kind = ToothKind.LowerMolar, Change = PairChange.Drawn(21, 2) });
        foreach (var branch in pair.Truth.Branches)
        {
            for (var level = 0.0; level < branch.OnBefore.Path.LengthPixels; level += 37)
            {
                var (x, y, z) = branch.OnBefore.InSpace(level);
                var (before, after) = (pair.Before.Geometry.Project(x, y, z), pair.After.Geometry.Project(x, y, z));
                var moved = branch.DisplacementAt(level);

                // Between two tabulated points the path is taken as straight on each film.
                Assert.Equal(after.X - before.X, moved.Dx, 0.01);
                Assert.Equal(after.Y - before.Y, moved.Dy, 0.01);
            }
        }
    }

    [Fact]
    public void Canals_at_two_depths_are_displaced_differently_when_the_tube_turns()
    {
        var pair = PhantomPair.Make(3, new PairOptions { Kind = ToothKind.UpperMolar, Change = new PairChange { HorizontalDegrees = 10 } });
        var palatal = pair.Truth.Branch("P").DisplacementAt(150).Dx;
        var buccal = pair.Truth.Branch("DB").DisplacementAt(150).Dx;

        // About 5 mm of depth times tan 10° is 0.9 mm or 30 pixels.
        Assert.InRange(Math.Abs(palatal - buccal), 18, 45);
    }

    [Fact]
    public void A_tooth_that_was_not_touched_has_everything_left()
    {
        var pair = PhantomPair.Make(8, new PairOptions { Untouched = true });

        Assert.All(pair.Truth.Branches.Where(branch => branch.Whole is not null), branch => Assert.Equal(100, branch.Whole!.MassPercent, 9));
    }

    [Fact]
    public void Residue_is_drawn_from_nothing_to_everything()
    {
        var shares = Enumerable.Range(1, 25)
            .Select(seed => PhantomPair.Make(seed, new PairOptions { Geometry = geometry => geometry with { PixelSize = 0.09, Width = 300, Height = 433 } }))
            .SelectMany(pair => pair.Truth.Branches)
            .Where(branch => branch.Whole is not null)
            .Select(branch => branch.Whole!.MassPercent)
            .ToList();

        Assert.Contains(shares, share => share == 0);
        Assert.Contains(shares, share => share > 99.99);
        Assert.Contains(shares, share => share is > 1 and < 10);
        Assert.Contains(shares, share => share is > 40 and < 90);
    }

    [Fact]
    public void What_changes_between_the_films_reaches_the_film_after()
    {
        var change = new PairChange { RotationDegrees = 3, ShiftX = 12, CroppedPixels = 100, Gamma = 1.4, Bits = 8, ToothToFilmMillimetres = 5, Inverted = true };
        var pair = PhantomPair.Make(4, new PairOptions { Kind = ToothKind.UpperIncisor, Change = change });

        Assert.Equal((800, 1200, 255), (pair.After.Radiograph.Width, pair.After.Radiograph.Height, pair.After.Radiograph.GreatestValue));
        Assert.Equal((900, 1300, 4095), (pair.Before.Radiograph.Width, pair.Before.Radiograph.Height, pair.Before.Radiograph.GreatestValue));
        Assert.True(pair.After.Geometry.Magnification > pair.Before.Geometry.Magnification);
        Assert.Equal(1.4, pair.After.Exposure.Gamma);
        Assert.True(pair.After.Exposure.Inverted);
    }

    [Fact]
    public void Bad_pairs_are_what_they_say()
    {
        var options = new PairOptions { Kind = ToothKind.LowerMolar };
        var good = PhantomPair.Make(5, options);
        var other = PhantomPair.OfTwoTeeth(5, options);
        var mirrored = PhantomPair.WithMirroredAfter(5, options);
        var beside = PhantomPair.WithoutOverlap(5, options);

        Assert.NotEqual(good.Before.Tooth.Seed, other.After.Tooth.Seed);
        Assert.True(mirrored.After.Geometry.Mirrored);
        Assert.All(beside.After.Tooth.Canals, canal =>
        {
            var section = canal.Lumen.SectionAt(canal.EndY);
            Assert.False(beside.After.Radiograph.Holds(beside.After.Geometry.Project(section.X, canal.EndY, section.Z)));
        });
    }

    [Fact]
    public void Clicks_follow_the_filled_canals_from_orifice_to_end()
    {
        var pair = PhantomPair.Make(6, new PairOptions { Kind = ToothKind.LowerMolar, Tooth = new ToothOptions { Splits = true, SecondCanalMissed = true } });
        var clicks = pair.Clicks(pinsBetween: 2);

        Assert.Equal(["MB", "D"], clicks.Select(canal => canal.Name));
        Assert.Equal("DL", Assert.Single(clicks[1].Branches).Name);
        Assert.All(clicks, canal => Assert.Equal(4, canal.Pins.Count));
        Assert.Equal(pair.Truth.Branch("MB").OnBefore.Path.Points[^1].X, clicks[0].Pins[^1].At.X, 6);
        Assert.Equal(["MB", "ML", "D"], pair.Clicks(unfilledToo: true).Select(canal => canal.Name));
    }

    [Fact]
    public void A_filling_pressed_beyond_the_end_ends_beyond_the_path()
    {
        var pair = PhantomPair.Make(6, new PairOptions { Kind = ToothKind.UpperIncisor, Tooth = new ToothOptions { Splits = false, ShortMillimetres = -1 } });
        var branch = pair.Truth.Branch("C").OnBefore;

        Assert.Equal(1, (branch.FilledToPixels!.Value - branch.Path.LengthPixels) * pair.Before.Geometry.PixelSizeAtTooth, 0.1);
    }

    [Fact]
    public void The_widths_on_the_film_are_those_of_the_solids()
    {
        var pair = PhantomPair.Make(6, new PairOptions { Kind = ToothKind.UpperIncisor, Tooth = new ToothOptions { Splits = false, Voids = 0 } });
        var branch = pair.Truth.Branch("C").OnBefore;
        var level = branch.LevelOfY(4);
        var (left, right) = branch.FillingEdges(level)!.Value;
        var along = branch.Path.DirectionAt(level, 4);

        // Sections are cut across y; across the path they are narrower by the cosine of its lean. Edges are found to 0.1 pixels.
        var expected = 2 * branch.Canal.Filling!.SectionAt(4).HalfX * Math.Abs(along.Y);
        Assert.Equal(expected, (left - right) * pair.Before.Geometry.PixelSizeAtTooth, 0.012);
        Assert.True(branch.CanalEdges(level)!.Value.Left >= left && branch.RootEdges(level)!.Value.Left > left + 20);
    }
}
