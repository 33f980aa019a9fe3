using SkiaSharp;

namespace Secondpass.Exchange.Pictures;

/// <summary>Paints a picture as PNG, black on white paper, in the embedded font.</summary>
public static class PngPainter
{
    private const double GreatestPixels = 64e6;

    /// <summary>The picture as the bytes of a PNG file.</summary>
    /// <param name="picture">The picture.</param>
    /// <param name="pixelsPerUnit">Pixels to one unit of the picture; 2 is sharp on most screens.</param>
    /// <exception cref="ArgumentOutOfRangeException">The scale is not positive, or the picture would have more than 64 million pixels.</exception>
    public static byte[] Paint(Picture picture, double pixelsPerUnit = 2)
    {
        ArgumentNullException.ThrowIfNull(picture);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(pixelsPerUnit);
        var width = Math.Max(1, Math.Ceiling(picture.Width * pixelsPerUnit));
        var height = Math.Max(1, Math.Ceiling(picture.Height * pixelsPerUnit));
        ArgumentOutOfRangeException.ThrowIfGreaterThan(width * height, GreatestPixels, nameof(pixelsPerUnit));

        using var surface = new SKBitmap(new SKImageInfo((int)width, (int)height, SKColorType.Rgba8888, SKAlphaType.Opaque));
        using (var canvas = new SKCanvas(surface))
        {
            canvas.Clear(SKColors.White);
            canvas.Scale((float)pixelsPerUnit);
            foreach (var mark in picture.Marks)
            {
                Draw(canvas, mark);
            }
        }

        using var data = surface.Encode(SKEncodedImageFormat.Png, 100);
        return data.ToArray();
    }

    private static void Draw(SKCanvas canvas, PictureMark mark)
    {
        switch (mark)
        {
            case LineMark line:
                using (var path = Path([line.Points], closed: false))
                {
                    DrawStroke(canvas, path, line.Stroke);
                }

                break;
            case ShapeMark shape:
                using (var path = Path(shape.Rings, closed: true))
                {
                    if (shape.Fill is { } fill)
                    {
                        using var paint = new SKPaint { IsAntialias = true, Style = SKPaintStyle.Fill, Color = Colour(fill) };
                        canvas.DrawPath(path, paint);
                    }

                    DrawStroke(canvas, path, shape.Stroke);
                }

                break;
            case HatchMark hatch:
                using (var path = Path([.. hatch.Lines().Select(line => (IReadOnlyList<PicturePoint>)[line.From, line.To])], closed: false))
                {
                    DrawStroke(canvas, path, hatch.Stroke);
                }

                break;
            case TextMark text:
                using (var font = new SKFont(EmbeddedFont.Typeface(text.Bold), (float)text.Size) { Subpixel = true, Edging = SKFontEdging.Antialias, Hinting = SKFontHinting.None })
                using (var paint = new SKPaint { IsAntialias = true, Color = Colour(text.Ink) })
                {
                    var anchor = text.Anchor switch { TextAnchor.Middle => SKTextAlign.Center, TextAnchor.End => SKTextAlign.Right, _ => SKTextAlign.Left };
                    canvas.DrawText(TextLayout.Plain(text.Text), (float)text.At.X, (float)text.At.Y, anchor, font, paint);
                }

                break;
            case GreyImageMark image:
                using (var bitmap = GreyImageFile.Bitmap(image.Image))
                using (var picture = SKImage.FromBitmap(bitmap))
                {
                    canvas.DrawImage(
                        picture,
                        SKRect.Create((float)image.At.X, (float)image.At.Y, (float)image.Width, (float)image.Height),
                        new SKSamplingOptions(SKFilterMode.Linear, SKMipmapMode.Linear));
                }

                break;
            default:
                throw new NotSupportedException("No way to paint " + mark.GetType().Name + ".");
        }
    }

    private static SKPath Path(IReadOnlyList<IReadOnlyList<PicturePoint>> lines, bool closed)
    {
        using var builder = new SKPathBuilder();
        builder.FillType = SKPathFillType.EvenOdd;
        foreach (var line in lines)
        {
            builder.AddPoly([.. line.Select(point => new SKPoint((float)point.X, (float)point.Y))], closed);
        }

        return builder.Detach();
    }

    private static void DrawStroke(SKCanvas canvas, SKPath path, Stroke? stroke)
    {
        if (stroke is null)
        {
            return;
        }

        using var dashes = stroke.Dashes is { } lengths ? SKPathEffect.CreateDash([.. lengths.Select(length => (float)length)], 0) : null;
        using var paint = new SKPaint
        {
            IsAntialias = true,
            Style = SKPaintStyle.Stroke,
            StrokeWidth = (float)stroke.Width,
            Color = Colour(stroke.Ink),
            PathEffect = dashes,
        };
        canvas.DrawPath(path, paint);
    }

    private static SKColor Colour(Ink ink)
    {
        var colour = InkColour.Of(ink);
        return new SKColor(colour.Red, colour.Green, colour.Blue);
    }
}
