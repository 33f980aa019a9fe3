using Secondpass.Domain.Films;
using Secondpass.Exchange.Pictures;

namespace Secondpass.Tests.Exchange.Pictures;

public sealed class ComparisonOverlayTests
{
    private static readonly (ComparisonRequest Request, Comparison Comparison) Molar =
        InventedComparison.Films(InventedComparison.Molar, InventedComparison.Scale);

    [Fact]
    public void Shows_the_film_before_the_film_after_and_what_is_left()
    {
        var picture = ComparisonOverlay.Draw(Molar.Request, Molar.Comparison);

        Assert.Equal(["film-before", "film-after", "film-residue"], picture.Marks.OfType<GreyImageMark>().Select(mark => mark.Part));
        var texts = picture.Marks.OfType<TextMark>().Select(mark => mark.Text).ToList();
        Assert.Superset(new HashSet<string> { "Film before", "Film after, laid over the film before", "MB1", "MB2", "DB", "P", "DL", "5 mm", "canal without a result" }, texts.ToHashSet());
        Assert.Contains(texts, text => text.StartsWith("What is left", StringComparison.Ordinal));
    }

    [Fact]
    public void Says_in_words_what_it_shows()
    {
        var picture = ComparisonOverlay.Draw(Molar.Request, Molar.Comparison);

        Assert.StartsWith("MB1: 12 % of the filling left (8–17 %), most of it in the apical third. MB2: ", picture.Description, StringComparison.Ordinal);
    }

    [Fact]
    public void Outlines_as_much_film_as_held_filling_before()
    {
        var (request, comparison) = InventedComparison.Films([InventedComparison.Plain], InventedComparison.Scale);
        var picture = ComparisonOverlay.Draw(request, comparison);
        var panel = picture.Marks.OfType<GreyImageMark>().Single(mark => mark.Part == "film-residue");
        var unitsPerPixel = panel.Width / panel.Image.Width;
        foreach (var (part, isCounted) in new (string, Func<byte, bool>)[]
        {
            ("overlay-filling", found => found != (byte)ResidueClass.Outside),
            ("overlay-residue", found => found == (byte)ResidueClass.Left),
        })
        {
            var outline = picture.Marks.OfType<ShapeMark>().First(mark => mark.Part == part);
            var pixels = comparison.Picture.Residue.Count(isCounted);

            // Cut corners lose an eighth of a pixel each; a twentieth of these slender shapes' area is more than all of them.
            Assert.Equal(pixels, outline.Rings.Sum(Area) / (unitsPerPixel * unitsPerPixel), pixels / 20.0);
        }
    }

    [Fact]
    public void Everything_lies_on_the_picture()
    {
        foreach (var picture in new[] { ComparisonOverlay.Draw(Molar.Request, Molar.Comparison), ComparisonOverlay.DrawWithStrips(Molar.Request, Molar.Comparison) })
        {
            foreach (var point in picture.Marks.SelectMany(Points))
            {
                Assert.InRange(point.X, -0.01, picture.Width + 0.01);
                Assert.InRange(point.Y, -0.01, picture.Height + 0.01);
            }
        }
    }

    [Fact]
    public void No_name_covers_another()
    {
        var boxes = ComparisonOverlay.Draw(Molar.Request, Molar.Comparison).Marks.OfType<ShapeMark>()
            .Where(mark => mark.Part is "film-name" or "film-scale")
            .Select(mark => (Left: mark.Rings[0].Min(point => point.X), Right: mark.Rings[0].Max(point => point.X), Top: mark.Rings[0].Min(point => point.Y), Bottom: mark.Rings[0].Max(point => point.Y)))
            .ToList();

        Assert.Equal(8, boxes.Count);
        for (var i = 0; i < boxes.Count; i++)
        {
            for (var j = 0; j < i; j++)
            {
                var (a, b) = (boxes[i], boxes[j]);
                Assert.True(a.Right <= b.Left || b.Right <= a.Left || a.Bottom <= b.Top || b.Bottom <= a.Top);
            }
        }
    }

    [Fact]
    public void Has_no_scale_bar_where_there_is_no_scale()
    {
        var (request, comparison) = InventedComparison.Films(InventedComparison.Molar, null);

        Assert.DoesNotContain(ComparisonOverlay.Draw(request, comparison).Marks, mark => mark.Part == "film-scale");
    }

    [Fact]
    public void Is_drawn_where_no_filling_is_left_and_where_there_is_no_canal()
    {
        var none = InventedComparison.Films([new InventedCanal("DB") { Whole = InventedCanal.Share(0, -2, 3) }], InventedComparison.Scale);
        var empty = InventedComparison.Films([], InventedComparison.Scale);

        Assert.Equal(1, ComparisonOverlay.Draw(none.Request, none.Comparison).Marks.Count(mark => mark.Part == "overlay-residue"));
        Assert.NotEmpty(PngPainter.Paint(ComparisonOverlay.DrawWithStrips(empty.Request, empty.Comparison), 0.5));
    }

    [Fact]
    public void Strips_stand_below_the_films_in_the_picture_for_a_file()
    {
        var picture = ComparisonOverlay.DrawWithStrips(Molar.Request, Molar.Comparison);

        Assert.Equal(5, picture.Marks.Count(mark => mark.Part == "strip-name"));
        Assert.True(
            picture.Marks.OfType<TextMark>().Where(mark => mark.Part == "strip-name").Min(mark => mark.At.Y)
            > picture.Marks.OfType<GreyImageMark>().Max(mark => mark.At.Y + mark.Height));
    }

    [Fact]
    public void Measured_films_show_every_canal_and_its_strip()
    {
        var trunks = InventedComparison.Molar.Select((canal, index) => InventedComparison.Branch(canal, index, 4)).ToList();
        var picture = MeasurementPicture.Draw(Molar.Request.Before, trunks, InventedComparison.Scale);

        Assert.Equal(["MB1", "MB2", "DB", "P", "DL"], picture.Marks.OfType<TextMark>().Where(mark => mark.Part == "film-name").Select(mark => mark.Text));
        Assert.Equal(5, picture.Marks.Count(mark => mark.Part == "strip-name"));
        Assert.DoesNotContain(picture.Marks, mark => mark.Part == "strip-residue");
        foreach (var point in picture.Marks.SelectMany(Points))
        {
            Assert.InRange(point.X, 0, picture.Width);
            Assert.InRange(point.Y, 0, picture.Height);
        }
    }

    [Fact]
    public void A_patch_below_the_detection_limit_is_dotted_and_not_hatched_and_the_legend_says_so()
    {
        const string words = "too small for these films to be sure of";
        var (request, plain) = InventedComparison.Films([InventedComparison.Plain], InventedComparison.Scale);
        var (speck, patch) = (100, 200);
        var picture = plain.Picture with { Residue = [.. plain.Picture.Residue.Select(found => found == (byte)ResidueClass.Left ? (byte)ResidueClass.Cleared : found)] };
        Fill(picture, 40, 400, speck);
        Fill(picture, 300, 400, patch);
        var comparison = plain with { Drawing = new Lazy<ComparisonPicture>(picture), Branches = [.. plain.Branches.Select(residue => residue with { DetectionLimitSquarePixels = 150 })] };

        var drawn = ComparisonOverlay.Draw(request, comparison);

        Assert.Equal(speck, ResidueMap.Of(comparison).Count(found => found == (byte)ResidueClass.BelowLimit));
        Assert.Equal(patch, ResidueMap.Of(comparison).Count(found => found == (byte)ResidueClass.Left));
        Assert.All(drawn.Marks.OfType<ShapeMark>().Where(mark => mark.Part == "overlay-residue-below-limit"), mark => Assert.NotNull(mark.Stroke!.Dashes));
        Assert.Single(drawn.Marks.OfType<HatchMark>(), mark => mark.Part == "overlay-residue-hatch" && mark.Stroke.Ink == Ink.Amber && mark.Rings[0].Count > 4);
        Assert.Contains(drawn.Marks.OfType<TextMark>(), mark => mark.Text == words);
        Assert.DoesNotContain(ComparisonOverlay.Draw(request, plain).Marks.OfType<TextMark>(), mark => mark.Text == words);
    }

    [Fact]
    public void The_legend_keeps_within_the_picture_whatever_it_explains()
    {
        var (request, comparison) = InventedComparison.Films(InventedComparison.Molar, InventedComparison.Scale);
        Fill(comparison.Picture, 3, 3, 20);

        var drawn = ComparisonOverlay.Draw(request, comparison);

        var captions = drawn.Marks.OfType<TextMark>().Where(mark => mark is { Part: "film-caption", Anchor: TextAnchor.Start }).ToList();
        Assert.Equal(6, captions.Count);
        Assert.All(captions, mark => Assert.InRange(mark.At.X + TextLayout.Width(mark.Text, mark.Size, mark.Bold), 0, drawn.Width));
        Assert.All(captions, mark => Assert.InRange(mark.At.Y, 0, drawn.Height));
    }

    /// <summary>Marks a block ten columns wide as residue.</summary>
    private static void Fill(ComparisonPicture picture, int left, int top, int pixels)
    {
        for (var at = 0; at < pixels; at++)
        {
            picture.Residue[((top + (at / 10)) * picture.Width) + left + (at % 10)] = (byte)ResidueClass.Left;
        }
    }

    private static IEnumerable<PicturePoint> Points(PictureMark mark) => mark switch
    {
        LineMark line => line.Points,
        ShapeMark shape => shape.Rings.SelectMany(ring => ring),
        HatchMark hatch => hatch.Lines().SelectMany(line => new[] { line.From, line.To }),
        TextMark text => [text.At],
        GreyImageMark image => [image.At, new(image.At.X + image.Width, image.At.Y + image.Height)],
        _ => throw new NotSupportedException(),
    };

    private static double Area(IReadOnlyList<PicturePoint> ring) =>
        ring.Select((point, i) => (point, Next: ring[(i + 1) % ring.Count])).Sum(edge => (edge.point.X * edge.Next.Y) - (edge.Next.X * edge.point.Y)) / 2;
}
