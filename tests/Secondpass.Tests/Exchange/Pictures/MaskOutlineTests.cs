using CsCheck;
using Secondpass.Exchange.Pictures;

namespace Secondpass.Tests.Exchange.Pictures;

public sealed class MaskOutlineTests
{
    [Fact]
    public void A_pixel_lies_inside_the_rings_exactly_when_it_is_marked() =>
        Gen.Select(Gen.Int[1, 12], Gen.Int[1, 12])
            .SelectMany((width, height) => Gen.Bool.Array[width * height].Select(mask => (Width: width, Height: height, Mask: mask)))
            .Sample(image =>
            {
                var rings = MaskOutline.Rings(image.Width, image.Height, (x, y) => image.Mask[(y * image.Width) + x]);
                for (var y = 0; y < image.Height; y++)
                {
                    for (var x = 0; x < image.Width; x++)
                    {
                        Assert.Equal(image.Mask[(y * image.Width) + x], IsInside(rings, x, y));
                    }
                }
            });

    [Fact]
    public void A_square_has_one_ring_with_its_corners_cut()
    {
        var ring = Assert.Single(MaskOutline.Rings(6, 6, (x, y) => x is >= 1 and <= 4 && y is >= 1 and <= 4));

        Assert.Equal(0.5, ring.Min(point => point.X));
        Assert.Equal(4.5, ring.Max(point => point.X));
        Assert.InRange(ring.Count, 8, 9);
    }

    [Fact]
    public void Nothing_marked_has_no_ring() => Assert.Empty(MaskOutline.Rings(5, 4, (_, _) => false));

    private static bool IsInside(IReadOnlyList<IReadOnlyList<PicturePoint>> rings, double x, double y)
    {
        var crossings = 0;
        foreach (var ring in rings)
        {
            for (var i = 0; i < ring.Count; i++)
            {
                var (a, b) = (ring[i], ring[(i + 1) % ring.Count]);
                if (a.Y > y != b.Y > y && x < a.X + ((y - a.Y) / (b.Y - a.Y) * (b.X - a.X)))
                {
                    crossings++;
                }
            }
        }

        return crossings % 2 == 1;
    }
}
