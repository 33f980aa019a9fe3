using Secondpass.Exchange.Pictures;
using Secondpass.Radiographs.Read;
using SkiaSharp;

namespace Secondpass.Tests.Exchange.Pictures;

public sealed class GreyImageFileTests
{
    [Fact]
    public void Keeps_every_grey_as_PNG()
    {
        var pixels = Enumerable.Range(0, 35 * 7).Select(place => (byte)(place * 41)).ToArray();
        using var decoded = SKBitmap.Decode(GreyImageFile.Png(new GreyImage(35, 7, pixels)));

        Assert.Equal(pixels, Enumerable.Range(0, 35 * 7).Select(place => decoded.GetPixel(place % 35, place / 35).Red));
    }

    // The reader of films is the other software here: it is compared with reference decoders where it is tested.
    [Fact]
    public void Keeps_greys_that_change_slowly_within_three_shades_as_JPEG_a_third_as_large()
    {
        const int side = 200;
        var pixels = Enumerable.Range(0, side * side).Select(place => (byte)(128 + (100 * Math.Sin(place % side / 9.0) * Math.Cos(place / side / 13.0)))).ToArray();
        var file = GreyImageFile.Jpeg(new GreyImage(side, side, pixels));
        Assert.True(FilmReader.Read(file).TryGet(out var read, out var refusal), refusal?.Reason);

        Assert.Equal((side, side), (read.Width, read.Height));
        Assert.All(pixels.Zip(read.Pixels.ToArray()), pair => Assert.InRange(pair.Second - pair.First, -3, 3));
        Assert.True(file.Length < pixels.Length / 3, $"{file.Length} bytes");
    }
}
