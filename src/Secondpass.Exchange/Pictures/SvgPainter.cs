using System.Globalization;
using System.Text;
using System.Xml;

namespace Secondpass.Exchange.Pictures;

/// <summary>Paints a picture as SVG 1.1 for a page with a strict content security policy: presentation attributes and classes, no style, no script.</summary>
/// <remarks>
/// The page's ink is <c>currentColor</c>, so light and dark follow the text around it; every mark carries its
/// <see cref="PictureMark.Part"/> as class, the picture its <see cref="Picture.Kind"/>. A grey image becomes a <c>data:</c>
/// address, which a policy must allow; strips hold none.
/// </remarks>
public static class SvgPainter
{
    private const string Namespace = "http://www.w3.org/2000/svg";

    /// <summary>The picture as one <c>svg</c> element, without an XML declaration, to stand in a page or in a file of its own.</summary>
    /// <param name="picture">The picture.</param>
    public static string Paint(Picture picture)
    {
        ArgumentNullException.ThrowIfNull(picture);
        var text = new StringBuilder();
        using (var svg = XmlWriter.Create(text, new XmlWriterSettings { OmitXmlDeclaration = true, ConformanceLevel = ConformanceLevel.Fragment }))
        {
            svg.WriteStartElement("svg", Namespace);
            svg.WriteAttributeString("class", picture.Kind);
            svg.WriteAttributeString("viewBox", $"0 0 {Number(picture.Width)} {Number(picture.Height)}");
            svg.WriteAttributeString("role", "img");
            svg.WriteAttributeString("fill", "none");
            svg.WriteAttributeString("font-family", "sans-serif");
            svg.WriteElementString("title", Namespace, TextLayout.Plain(picture.Title));
            svg.WriteElementString("desc", Namespace, TextLayout.Plain(picture.Description));
            foreach (var mark in picture.Marks)
            {
                Write(svg, mark);
            }

            svg.WriteEndElement();
        }

        return text.ToString();
    }

    private static void Write(XmlWriter svg, PictureMark mark)
    {
        switch (mark)
        {
            case LineMark line:
                Start(svg, "polyline", mark);
                svg.WriteAttributeString("points", string.Join(' ', line.Points.Select(Pair)));
                WriteStroke(svg, line.Stroke);
                break;
            case ShapeMark shape:
                Start(svg, "path", mark);
                svg.WriteAttributeString("d", string.Concat(shape.Rings.Select(ring => $"M{string.Join('L', ring.Select(Pair))}Z")));
                svg.WriteAttributeString("fill-rule", "evenodd");
                if (shape.Fill is { } fill)
                {
                    WriteInk(svg, "fill", fill);
                }

                WriteStroke(svg, shape.Stroke);
                break;
            case HatchMark hatch:
                Start(svg, "path", mark);
                svg.WriteAttributeString("d", string.Concat(hatch.Lines().Select(line => $"M{Pair(line.From)}L{Pair(line.To)}")));
                WriteStroke(svg, hatch.Stroke);
                break;
            case TextMark text:
                Start(svg, "text", mark);
                svg.WriteAttributeString("x", Number(text.At.X));
                svg.WriteAttributeString("y", Number(text.At.Y));
                svg.WriteAttributeString("font-size", Number(text.Size));
                svg.WriteAttributeString("text-anchor", text.Anchor switch { TextAnchor.Middle => "middle", TextAnchor.End => "end", _ => "start" });
                if (text.Bold)
                {
                    svg.WriteAttributeString("font-weight", "bold");
                }

                WriteInk(svg, "fill", text.Ink);
                svg.WriteString(TextLayout.Plain(text.Text));
                break;
            case GreyImageMark image:
                Start(svg, "image", mark);
                svg.WriteAttributeString("x", Number(image.At.X));
                svg.WriteAttributeString("y", Number(image.At.Y));
                svg.WriteAttributeString("width", Number(image.Width));
                svg.WriteAttributeString("height", Number(image.Height));
                svg.WriteAttributeString("preserveAspectRatio", "none");
                svg.WriteAttributeString("href", "data:image/png;base64," + Convert.ToBase64String(GreyImageFile.Png(image.Image)));
                break;
            default:
                throw new NotSupportedException("No way to paint " + mark.GetType().Name + ".");
        }

        svg.WriteEndElement();
    }

    private static void Start(XmlWriter svg, string element, PictureMark mark)
    {
        svg.WriteStartElement(element, Namespace);
        svg.WriteAttributeString("class", mark.Part);
    }

    private static void WriteStroke(XmlWriter svg, Stroke? stroke)
    {
        if (stroke is null)
        {
            return;
        }

        WriteInk(svg, "stroke", stroke.Ink);
        svg.WriteAttributeString("stroke-width", Number(stroke.Width));
        if (stroke.Dashes is { } dashes)
        {
            svg.WriteAttributeString("stroke-dasharray", string.Join(' ', dashes.Select(Number)));
        }
    }

    private static void WriteInk(XmlWriter svg, string attribute, Ink ink)
    {
        svg.WriteAttributeString(attribute, ink is Ink.Page or Ink.Quiet ? "currentColor" : InkColour.Of(ink).ToString());
        if (ink == Ink.Quiet)
        {
            svg.WriteAttributeString(attribute + "-opacity", Number(InkColour.QuietOpacity));
        }
    }

    private static string Pair(PicturePoint point) => Number(point.X) + "," + Number(point.Y);

    private static string Number(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);
}
