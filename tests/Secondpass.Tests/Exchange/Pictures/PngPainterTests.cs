using Secondpass.Exchange.Pictures;
using SkiaSharp;

namespace Secondpass.Tests.Exchange.Pictures;

public sealed class PngPainterTests
{
    private static readonly Stroke Thick = new(Ink.Page, 4);

    [Fact]
    public void Paints_a_line_where_it_lies_on_white_paper()
    {
        using var painted = Paint(new LineMark("test", [new(10, 20), new(90, 20)], Thick), 2);

        Assert.Equal((200, 100), (painted.Width, painted.Height));
        Assert.Equal(SKColors.Black, painted.GetPixel(100, 40));
        Assert.Equal(SKColors.White, painted.GetPixel(100, 50));
        Assert.Equal(SKColors.White, painted.GetPixel(10, 40));
    }

    [Fact]
    public void Leaves_a_hole_in_a_shape_free()
    {
        PicturePoint[] Square(double from, double to) => [new(from, from), new(to, from), new(to, to), new(from, to)];
        using var painted = Paint(new ShapeMark("test", [Square(5, 45), Square(15, 35)], null, Ink.Page), 1);

        Assert.Equal(SKColors.Black, painted.GetPixel(10, 25));
        Assert.Equal(SKColors.White, painted.GetPixel(25, 25));
    }

    // A machine without fonts paints no letters and reports no error: the embedded font must be in use.
    [Theory]
    [InlineData(TextAnchor.Start, 52, 90)]
    [InlineData(TextAnchor.Middle, 36, 64)]
    [InlineData(TextAnchor.End, 10, 48)]
    public void Writes_letters_at_the_side_of_their_anchor(TextAnchor anchor, int from, int to)
    {
        using var painted = Paint(new TextMark("test", new(50, 30), "mm²", 14, anchor), 1);
        var columns = Enumerable.Range(0, 100).Where(x => Enumerable.Range(0, 50).Any(y => painted.GetPixel(x, y).Red < 128)).ToList();

        Assert.NotEmpty(columns);
        Assert.InRange(columns[0], from - 12, to);
        Assert.InRange(columns[^1], from, to);
    }

    [Fact]
    public void Places_a_grey_image_with_its_greys()
    {
        using var painted = Paint(new GreyImageMark("test", new(10, 10), 40, 20, new GreyImage(2, 1, [60, 200])), 1);

        Assert.Equal(60, painted.GetPixel(13, 20).Green);
        Assert.Equal(200, painted.GetPixel(46, 20).Green);
        Assert.Equal(SKColors.White, painted.GetPixel(55, 20));
    }

    [Fact]
    public void Refuses_a_picture_larger_than_memory_should_hold() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => PngPainter.Paint(new Picture("test", 1e4, 1e4, "", "", []), 1));

    [Fact]
    public void Paints_the_same_bytes_again()
    {
        var strip = CanalStrip.Draw(InventedComparison.Residue(InventedComparison.Plain), InventedComparison.Scale);

        Assert.Equal(PngPainter.Paint(strip), PngPainter.Paint(strip));
    }

    private static SKBitmap Paint(PictureMark mark, double pixelsPerUnit) =>
        SKBitmap.Decode(PngPainter.Paint(new Picture("test", 100, 50, "test", "test", [mark]), pixelsPerUnit));
}
