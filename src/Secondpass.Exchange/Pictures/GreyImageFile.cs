using System.Runtime.InteropServices;
using SkiaSharp;

namespace Secondpass.Exchange.Pictures;

/// <summary>A grey image as the bytes of a file of 8-bit greys, or as pixels to paint with.</summary>
internal static class GreyImageFile
{
    private const int JpegQuality = 90;

    /// <summary>As PNG, pixel for pixel.</summary>
    public static byte[] Png(GreyImage image)
    {
        using var bitmap = Bitmap(image);
        using var data = bitmap.Encode(SKEncodedImageFormat.Png, 100);
        return data.ToArray();
    }

    /// <summary>As JPEG, some greys off by a few shades: written and shown in a fraction of the time.</summary>
    public static byte[] Jpeg(GreyImage image)
    {
        using var bitmap = Bitmap(image);
        using var data = bitmap.Encode(SKEncodedImageFormat.Jpeg, JpegQuality);
        return data.ToArray();
    }

    /// <summary>As pixels to paint with.</summary>
    public static SKBitmap Bitmap(GreyImage image)
    {
        var bitmap = new SKBitmap(new SKImageInfo(image.Width, image.Height, SKColorType.Gray8, SKAlphaType.Opaque));
        var rows = image.Pixels.ToArray();
        for (var row = 0; row < image.Height; row++)
        {
            Marshal.Copy(rows, row * image.Width, bitmap.GetPixels() + (row * bitmap.RowBytes), image.Width);
        }

        return bitmap;
    }
}
