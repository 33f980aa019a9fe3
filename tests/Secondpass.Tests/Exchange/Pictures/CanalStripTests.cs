using CsCheck;
using Secondpass.Domain.Films;
using Secondpass.Exchange.Pictures;
using SkiaSharp;

namespace Secondpass.Tests.Exchange.Pictures;

public sealed class CanalStripTests
{
    [Fact]
    public void Residue_in_a_patch_below_the_detection_limit_is_dotted_and_not_hatched()
    {
        var residue = InventedComparison.Residue(new("MB1") { Left = [new(0.3, 0.31), new(0.6, 0.8)] });

        var picture = CanalStrip.Draw(residue, InventedComparison.Scale);

        Assert.Single(Shape(picture, "strip-residue").Rings);
        var faint = Shape(picture, "strip-residue-below-limit");
        Assert.Single(faint.Rings);
        Assert.NotNull(faint.Stroke!.Dashes);
        Assert.Single(picture.Marks.OfType<HatchMark>().Single(mark => mark.Part == "strip-residue-hatch").Rings);
        Assert.Contains(CanalStrip.Legend().Marks.OfType<TextMark>(), mark => mark.Text == "too small to be sure of");
    }

    private static readonly SKTypeface Regular = Typeface("DejaVuSans.ttf");
    private static readonly SKTypeface Bold = Typeface("DejaVuSans-Bold.ttf");
    private static readonly BranchResidue Residue = InventedComparison.Residue(InventedComparison.Plain);

    [Fact]
    public void Lies_from_orifice_on_the_left_to_end_on_the_right()
    {
        var ring = Assert.Single(Shape(Draw(), "strip-outline").Rings);
        var half = ring.Count / 2;
        var (above, below) = (ring.Take(half).Select(point => point.X).ToList(), ring.Skip(half).Select(point => point.X).ToList());

        Assert.Equal(above.Order(), above);
        Assert.Equal(below.OrderDescending(), below);
    }

    [Fact]
    public void Lengths_are_to_the_scale_that_is_drawn()
    {
        var picture = Draw();
        var numbers = picture.Marks.OfType<TextMark>().Where(mark => mark.Part == "strip-scale-number").ToList();
        var unitsPerMillimetre = (numbers[1].At.X - numbers[0].At.X) / (Number(numbers[1]) - Number(numbers[0]));
        var end = Line(picture, "strip-end").Points[0].X - numbers[0].At.X;
        var outline = Shape(picture, "strip-outline").Rings[0];

        Assert.Equal(Residue.Branch.Path.LengthPixels * InventedComparison.MillimetresPerPixel, end / unitsPerMillimetre, 1e-6);

        // The filling reaches half a step of 0.1 mm further than its first and last level.
        Assert.Equal(0.85 * end, outline.Max(point => point.X) - outline.Min(point => point.X), 0.15 * unitsPerMillimetre);

        static double Number(TextMark mark) => double.Parse(mark.Text, CultureInfo.InvariantCulture);
    }

    [Fact]
    public void Widths_are_to_the_same_scale_times_the_factor_that_is_written()
    {
        var picture = Draw();
        var unitsPerPixel = (Line(picture, "strip-end").Points[0].X - StartX(picture)) / Residue.Branch.Path.LengthPixels;
        var written = picture.Marks.OfType<TextMark>().Single(mark => mark.Part == "strip-scale-unit").Text;
        Assert.Equal("mm from orifice, width ×2", written);

        var ring = Shape(picture, "strip-outline").Rings[0];
        var filled = Residue.Strip.Where(sample => sample.FillingWidthPixels > 0).ToList();
        for (var i = 0; i < filled.Count; i++)
        {
            var (above, below) = (ring[i + 1], ring[ring.Count - 2 - i]);
            Assert.Equal(filled[i].FillingWidthPixels * unitsPerPixel * 2, below.Y - above.Y, 1e-9);
        }
    }

    [Fact]
    public void What_lies_left_of_the_way_on_the_film_lies_above()
    {
        var picture = Draw();
        var middle = Line(picture, "strip-path").Points[0].Y;

        Assert.All(Residue.Strip.Where(sample => sample.ResidueFromPixels > sample.ResidueToPixels), sample => Assert.True(sample.ResidueFromPixels > 0));
        Assert.True(Shape(picture, "strip-residue").Rings[0].Min(point => point.Y) < middle - 10);
    }

    [Fact]
    public void Residue_is_hatched_densely_and_what_the_films_can_not_tell_sparsely_the_other_way()
    {
        var both = InventedComparison.Plain with { Untold = [new(0.2, 0.5)] };
        var hatches = CanalStrip.Draw(InventedComparison.Residue(both), InventedComparison.Scale).Marks.OfType<HatchMark>().ToDictionary(mark => mark.Part);
        var (residue, untold) = (hatches["strip-residue-hatch"], hatches["strip-untold"]);

        Assert.Equal(90, Math.Abs(residue.AngleDegrees - untold.AngleDegrees));
        Assert.True(untold.Pitch >= 2 * residue.Pitch);
        Assert.NotEmpty(residue.Lines());
        Assert.NotEmpty(untold.Lines());
    }

    [Fact]
    public void Where_the_films_can_not_tell_the_rest_of_the_width_the_residue_seen_stays_out_of_it()
    {
        var strip = Residue.Strip.Select(sample => sample with { CannotTell = sample.FillingWidthPixels > 0 }).ToList();
        var picture = CanalStrip.Draw(Residue with { Strip = strip }, InventedComparison.Scale);
        var seen = Shape(picture, "strip-residue").Rings[0];
        var middle = seen[seen.Count / 4];
        var inside = middle with { Y = middle.Y + 3 };

        Assert.DoesNotContain(
            picture.Marks.OfType<HatchMark>().Single(mark => mark.Part == "strip-untold").Lines(),
            line => DistanceTo(line, inside) < 1);
    }

    [Fact]
    public void Strips_of_one_tooth_share_one_scale()
    {
        var residues = InventedComparison.Films(InventedComparison.Molar, InventedComparison.Scale).Comparison.Branches;
        var pictures = CanalStrip.DrawAll(residues, InventedComparison.Scale);

        var unitsPerPixel = residues.Zip(pictures, (residue, picture) =>
            (Line(picture, "strip-end").Points[0].X - StartX(picture)) / residue.Branch.Path.LengthPixels).ToList();
        Assert.All(unitsPerPixel, units => Assert.Equal(unitsPerPixel[0], units, 1e-9));
        Assert.Equal(residues.Count, pictures.Count);
    }

    [Fact]
    public void Counts_pixels_where_there_is_no_scale()
    {
        var texts = Texts(CanalStrip.Draw(Residue, null));

        Assert.Contains("pixels: no scale, width ×2", texts);
        Assert.Contains("100", texts);
        Assert.DoesNotContain(texts, text => text.Contains("mm", StringComparison.Ordinal));
    }

    [Fact]
    public void Names_the_thirds_and_what_is_left_in_each()
    {
        var texts = Texts(Draw());

        Assert.Contains("coronal", texts);
        Assert.Contains("middle", texts);
        Assert.Contains("apical", texts);
        Assert.Contains("31 % (20–44 %)", texts);
        Assert.Contains("12 % of the filling left (8–17 %)", texts);
    }

    [Fact]
    public void Shows_the_filling_before_and_the_reason_where_a_branch_is_refused()
    {
        var picture = CanalStrip.Draw(InventedComparison.Residue(InventedComparison.Molar[3]), InventedComparison.Scale);

        Assert.NotEmpty(Shape(picture, "strip-outline").Rings);
        Assert.DoesNotContain(picture.Marks, mark => mark.Part is "strip-residue" or "strip-untold");
        Assert.StartsWith("An instrument stands in this canal", Texts(picture)[1], StringComparison.Ordinal);
        Assert.DoesNotContain(Texts(picture), text => text.Contains('%'));
    }

    [Fact]
    public void Shows_a_measurement_without_anything_of_what_is_left()
    {
        var picture = CanalStrip.Draw(Residue.Branch, InventedComparison.Scale);

        Assert.DoesNotContain(picture.Marks, mark => mark.Part is "strip-residue" or "strip-untold" or "strip-third-share");
        Assert.Contains("15.3 mm long; filling ends 1.5 mm short of the canal end", Texts(picture));
        Assert.Contains("void", Texts(picture));
    }

    [Fact]
    public void Shows_the_part_shared_with_the_trunk_and_the_branch_point()
    {
        var residues = InventedComparison.Residues(InventedComparison.Molar[0], 0, 1);
        var (trunk, branch) = (CanalStrip.Draw(residues[0], InventedComparison.Scale), CanalStrip.Draw(residues[1], InventedComparison.Scale));

        Assert.Contains("MB2", Texts(trunk));
        Assert.Contains("branch point", Texts(branch));
        Assert.Contains(branch.Marks, mark => mark.Part == "strip-shared");
        Assert.DoesNotContain(trunk.Marks, mark => mark.Part == "strip-shared");
        Assert.True(
            Shape(branch, "strip-shared").Rings[0].Max(point => point.X) <= Shape(branch, "strip-outline").Rings[0].Min(point => point.X) + 1);
    }

    [Fact]
    public void Shows_a_canal_without_any_filling()
    {
        var branch = Residue.Branch with { Filling = new FillingProfile([], null, null) };
        var picture = CanalStrip.Draw(branch, InventedComparison.Scale);

        Assert.Contains("15.3 mm long; no filling seen", Texts(picture));
        Assert.DoesNotContain(picture.Marks, mark => mark.Part is "strip-outline" or "strip-filling-end");
    }

    // 6 points is the least that is commonly printed for reading (common practice, no source); 80 mm is the strip's width on paper.
    [Fact]
    public void Letters_are_at_least_6_points_high_at_80_mm_and_16_pixels_at_600()
    {
        var smallest = Draw().Marks.OfType<TextMark>().Concat(CanalStrip.Legend().Marks.OfType<TextMark>()).Min(mark => mark.Size);

        Assert.InRange(smallest / CanalStrip.Width * 80 / 25.4 * 72, 6, 20);
        Assert.InRange(smallest / CanalStrip.Width * 600, 16, 40);
    }

    [Fact]
    public void No_label_runs_over_another_or_off_the_strip_whatever_the_canal() =>
        Gen.Select(Gen.Double[0.02, 0.4], Gen.Double[0.05, 0.6], Gen.Int[0, 100], Gen.Int[0, 100], Gen.Bool, Gen.Double[0.25, 1])
            .Sample((from, length, left, width, hasScale, shortened) =>
            {
                var canal = InventedComparison.Plain with
                {
                    Filled = new(from, Math.Min(0.99, from + length)),
                    Left = [new(from + 0.01, from + 0.02)],
                    Whole = InventedCanal.Share(left, left - (width / 3.0), left + width),
                    Thirds = InventedComparison.Thirds((left, left - width, left + width), (0, -1, width), (100 - left, 0 - width, 100 + width)),
                };
                var residue = InventedComparison.Residue(canal);
                var longer = residue with { Branch = residue.Branch with { Filling = residue.Branch.Filling with { FilledToPixels = Secondpass.Domain.Quantities.Estimate.Within(residue.Branch.Path.LengthPixels / shortened, 5) } } };
                var picture = CanalStrip.DrawAll([residue, longer], hasScale ? InventedComparison.Scale : null)[0];
                AssertNoOverlap(picture);
            }, iter: 200);

    [Fact]
    public void No_label_runs_over_another_for_the_invented_molar()
    {
        var residues = InventedComparison.Films(InventedComparison.Molar, InventedComparison.Scale).Comparison.Branches;
        foreach (var picture in CanalStrip.DrawAll(residues, InventedComparison.Scale).Append(CanalStrip.Legend()))
        {
            AssertNoOverlap(picture);
        }
    }

    [Fact]
    public void A_long_name_is_cut_and_a_long_reason_wrapped()
    {
        var refused = InventedComparison.Molar[3] with
        {
            Name = new string('M', 300),
            Refused = new Secondpass.Domain.Refusal("test", string.Join(' ', Enumerable.Repeat("reason", 60)), "none"),
        };
        var picture = CanalStrip.Draw(InventedComparison.Residue(refused), InventedComparison.Scale);

        AssertNoOverlap(picture);
        Assert.EndsWith("…", Texts(picture)[0], StringComparison.Ordinal);
        Assert.True(picture.Height > 250);
    }

    private static void AssertNoOverlap(Picture picture)
    {
        var boxes = picture.Marks.OfType<TextMark>().Select(mark => (mark.Text, Box: Box(mark))).ToList();
        foreach (var (text, box) in boxes)
        {
            Assert.True(box.Left >= 0 && box.Right <= picture.Width && box.Top >= 0 && box.Bottom <= picture.Height, $"“{text}” runs off the picture");
        }

        for (var i = 0; i < boxes.Count; i++)
        {
            for (var j = 0; j < i; j++)
            {
                var (a, b) = (boxes[i].Box, boxes[j].Box);
                var apart = a.Right <= b.Left || b.Right <= a.Left || a.Bottom <= b.Top || b.Bottom <= a.Top;
                Assert.True(apart, $"“{boxes[i].Text}” runs over “{boxes[j].Text}”");
            }
        }
    }

    /// <summary>A text's box, with the width of DejaVu Sans estimated by the drawing library itself and the height of its capitals and descenders.</summary>
    private static (double Left, double Right, double Top, double Bottom) Box(TextMark mark)
    {
        using var font = new SKFont(mark.Bold ? Bold : Regular, (float)mark.Size);
        double width = font.MeasureText(mark.Text);
        var left = mark.At.X - (mark.Anchor switch { TextAnchor.Start => 0, TextAnchor.Middle => width / 2, _ => width });
        return (left, left + width, mark.At.Y - (0.76 * mark.Size), mark.At.Y + (0.24 * mark.Size));
    }

    private static SKTypeface Typeface(string name) => SKTypeface.FromStream(typeof(CanalStrip).Assembly.GetManifestResourceStream(name));

    private static double DistanceTo((PicturePoint From, PicturePoint To) line, PicturePoint point)
    {
        var (dx, dy) = (line.To.X - line.From.X, line.To.Y - line.From.Y);
        var share = Math.Clamp((((point.X - line.From.X) * dx) + ((point.Y - line.From.Y) * dy)) / ((dx * dx) + (dy * dy)), 0, 1);
        return double.Hypot(point.X - line.From.X - (share * dx), point.Y - line.From.Y - (share * dy));
    }

    private static Picture Draw() => CanalStrip.Draw(Residue, InventedComparison.Scale);

    private static double StartX(Picture picture) => Line(picture, "strip-path").Points[0].X;

    private static LineMark Line(Picture picture, string part) => picture.Marks.OfType<LineMark>().First(mark => mark.Part == part);

    private static ShapeMark Shape(Picture picture, string part) => picture.Marks.OfType<ShapeMark>().Single(mark => mark.Part == part);

    private static List<string> Texts(Picture picture) => [.. picture.Marks.OfType<TextMark>().Select(mark => mark.Text)];
}
