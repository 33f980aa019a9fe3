using PdfSharp.Drawing;
using PdfSharp.Pdf;

namespace Secondpass.Exchange.Pictures;

/// <summary>Paints a picture as PDF, black on white paper, lines as lines and text as text in the embedded font.</summary>
public static class PdfPainter
{
    private const double PointsPerUnit = 72.0 / 96;

    /// <summary>The picture at its natural size as a PDF document of one page.</summary>
    /// <param name="picture">The picture.</param>
    public static byte[] Paint(Picture picture)
    {
        ArgumentNullException.ThrowIfNull(picture);
        using var document = new PdfDocument();
        document.Info.Title = TextLayout.Plain(picture.Title);
        document.Language = "en";
        var page = document.AddPage();
        page.Width = XUnit.FromPoint(picture.Width * PointsPerUnit);
        page.Height = XUnit.FromPoint(picture.Height * PointsPerUnit);
        using (var graphics = XGraphics.FromPdfPage(page))
        {
            Paint(graphics, picture, 0, 0, page.Width.Point);
        }

        using var bytes = new MemoryStream();
        document.Save(bytes, closeStream: false);
        return bytes.ToArray();
    }

    /// <summary>Paints the picture on a page.</summary>
    /// <param name="graphics">The page, in points from its top left corner.</param>
    /// <param name="picture">The picture.</param>
    /// <param name="leftPoints">Left edge.</param>
    /// <param name="topPoints">Top edge.</param>
    /// <param name="widthPoints">Width; the height follows.</param>
    internal static void Paint(XGraphics graphics, Picture picture, double leftPoints, double topPoints, double widthPoints)
    {
        foreach (var mark in picture.Marks)
        {
            Draw(graphics, mark.Moved(widthPoints / picture.Width, leftPoints, topPoints));
        }
    }

    private static void Draw(XGraphics graphics, PictureMark mark)
    {
        switch (mark)
        {
            case LineMark line:
                graphics.DrawLines(Pen(line.Stroke), Points(line.Points));
                break;
            case ShapeMark shape:
                var path = new XGraphicsPath { FillMode = XFillMode.Alternate };
                foreach (var ring in shape.Rings)
                {
                    path.AddPolygon(Points(ring));
                }

                graphics.DrawPath(
                    shape.Stroke is { } stroke ? Pen(stroke) : null,
                    shape.Fill is { } fill ? new XSolidBrush(Colour(fill)) : null,
                    path);
                break;
            case HatchMark hatch:
                var pen = Pen(hatch.Stroke);
                foreach (var (from, to) in hatch.Lines())
                {
                    graphics.DrawLine(pen, from.X, from.Y, to.X, to.Y);
                }

                break;
            case TextMark text:
                var alignment = text.Anchor switch
                {
                    TextAnchor.Middle => XStringAlignment.Center,
                    TextAnchor.End => XStringAlignment.Far,
                    _ => XStringAlignment.Near,
                };
                graphics.DrawString(
                    TextLayout.Plain(text.Text),
                    EmbeddedFontResolver.Font(text.Size, text.Bold),
                    new XSolidBrush(Colour(text.Ink)),
                    text.At.X,
                    text.At.Y,
                    new XStringFormat { Alignment = alignment, LineAlignment = XLineAlignment.BaseLine });
                break;
            case GreyImageMark image:
                using (var stream = new MemoryStream(GreyImageFile.Png(image.Image)))
                using (var picture = XImage.FromStream(stream))
                {
                    graphics.DrawImage(picture, image.At.X, image.At.Y, image.Width, image.Height);
                }

                break;
            default:
                throw new NotSupportedException("No way to paint " + mark.GetType().Name + ".");
        }
    }

    private static XPoint[] Points(IReadOnlyList<PicturePoint> points) => [.. points.Select(point => new XPoint(point.X, point.Y))];

    private static XPen Pen(Stroke stroke)
    {
        var pen = new XPen(Colour(stroke.Ink), stroke.Width);
        if (stroke.Dashes is { } dashes)
        {
            // The library counts dashes in widths of the line.
            pen.DashPattern = [.. dashes.Select(length => length / stroke.Width)];
        }

        return pen;
    }

    private static XColor Colour(Ink ink)
    {
        var colour = InkColour.Of(ink);
        return XColor.FromArgb(colour.Red, colour.Green, colour.Blue);
    }
}
