using PdfSharp.Drawing;
using PdfSharp.Pdf;
using PdfSharp.UniversalAccessibility;
using Secondpass.Exchange.Pictures;

namespace Secondpass.Exchange.Sheets;

/// <summary>One tagged A4 page that text, tables and pictures are put on, in points from its top left corner.</summary>
internal sealed class SheetPage : IDisposable
{
    /// <summary>Free space on each side.</summary>
    public const double Margin = 34;

    /// <summary>Height of a line of text to the size of its letters.</summary>
    public const double LineHeight = 1.28;

    private readonly PdfDocument document = new();
    private readonly XGraphics graphics;
    private readonly StructureBuilder structure;

    /// <summary>Begins the page.</summary>
    /// <param name="title">Title of the document.</param>
    /// <param name="date">Day that the document is dated with.</param>
    public SheetPage(string title, DateOnly date)
    {
        document.Info.Title = TextLayout.Plain(title);
        document.Info.Creator = "Secondpass";
        document.Info.CreationDate = date.ToDateTime(TimeOnly.MinValue, DateTimeKind.Utc);
        document.Info.ModificationDate = document.Info.CreationDate;
        document.ViewerPreferences.DisplayDocTitle = true;
        var accessibility = UAManager.ForDocument(document);
        accessibility.SetDocumentLanguage("en");
        structure = accessibility.StructureBuilder;

        var page = document.AddPage();
        page.Size = PdfSharp.PageSize.A4;
        (Width, Height) = (page.Width.Point, page.Height.Point);
        graphics = XGraphics.FromPdfPage(page);
    }

    /// <summary>Width of the page.</summary>
    public double Width { get; }

    /// <summary>Height of the page.</summary>
    public double Height { get; }

    /// <summary>Width between the margins.</summary>
    public double Room => Width - (2 * Margin);

    /// <summary>Height that a <see cref="Paragraph"/> in plain letters takes.</summary>
    public static double HeightOf(string text, double size, double width, int greatestLines) =>
        Lines(text, size, false, width, greatestLines).Count * size * LineHeight;

    /// <summary>Writes a paragraph and gives the place below it.</summary>
    /// <param name="tag">What it is to a reader that can't see the page.</param>
    /// <param name="text">The text.</param>
    /// <param name="size">Size of the letters.</param>
    /// <param name="left">Left edge.</param>
    /// <param name="top">Top edge.</param>
    /// <param name="width">Width that it is broken to.</param>
    /// <param name="bold">Whether it is bold.</param>
    /// <param name="greatestLines">At most so many lines.</param>
    /// <param name="toTheRight">Whether lines end at the right edge instead of beginning at the left one.</param>
    public double Paragraph(
        PdfBlockLevelElementTag tag,
        string text,
        double size,
        double left,
        double top,
        double width,
        bool bold = false,
        int greatestLines = int.MaxValue,
        bool toTheRight = false)
    {
        structure.BeginElement(tag);
        foreach (var line in Lines(text, size, bold, width, greatestLines))
        {
            top += size * LineHeight;
            graphics.DrawString(
                line,
                EmbeddedFontResolver.Font(size, bold),
                XBrushes.Black,
                toTheRight ? left + width : left,
                top - (size * 0.3),
                new XStringFormat { Alignment = toTheRight ? XStringAlignment.Far : XStringAlignment.Near, LineAlignment = XLineAlignment.BaseLine });
        }

        structure.End();
        return top;
    }

    /// <summary>Puts a picture on the page and gives the place below it.</summary>
    /// <param name="picture">The picture.</param>
    /// <param name="left">Left edge.</param>
    /// <param name="top">Top edge.</param>
    /// <param name="width">Width; the height follows.</param>
    public double Picture(Picture picture, double left, double top, double width)
    {
        var height = picture.Height * width / picture.Width;
        structure.BeginElement(
            PdfIllustrationElementTag.Figure,
            TextLayout.Plain($"{picture.Title}. {picture.Description}"),
            new XRect(left, Height - top - height, width, height));
        PdfPainter.Paint(graphics, picture, left, top, width);
        structure.End();
        return top + height;
    }

    /// <summary>Puts a table on the page and gives the place below it.</summary>
    /// <param name="rows">Rows of cells; the first row and the first cell of each row are headings. An empty cell belongs to the one above it.</param>
    /// <param name="widths">Width of each column.</param>
    /// <param name="size">Size of the letters.</param>
    /// <param name="left">Left edge.</param>
    /// <param name="top">Top edge.</param>
    public double Table(IReadOnlyList<IReadOnlyList<string>> rows, IReadOnlyList<double> widths, double size, double left, double top)
    {
        structure.BeginElement(PdfBlockLevelElementTag.Table);
        for (var row = 0; row < rows.Count; row++)
        {
            structure.BeginElement(PdfBlockLevelElementTag.TableRow);
            var x = left;
            for (var column = 0; column < widths.Count; column++)
            {
                if (rows[row][column].Length > 0)
                {
                    var isHeading = row == 0 || column == 0;
                    structure.BeginElement(isHeading ? PdfBlockLevelElementTag.TableHeaderCell : PdfBlockLevelElementTag.TableDataCell);
                    var below = rows.Skip(row + 1).TakeWhile(next => next[column].Length == 0).Count();
                    if (below > 0)
                    {
                        structure.SetRowSpan(below + 1);
                    }

                    graphics.DrawString(
                        TextLayout.Fit(TextLayout.Plain(rows[row][column]), size, isHeading, widths[column] - 5),
                        EmbeddedFontResolver.Font(size, isHeading),
                        XBrushes.Black,
                        x + 2,
                        top + ((row + 1) * RowHeight(size)) - (size * 0.45),
                        new XStringFormat { LineAlignment = XLineAlignment.BaseLine });
                    structure.End();
                }

                x += widths[column];
            }

            structure.End();
        }

        structure.End();
        var lines = Enumerable.Range(0, rows.Count).Where(row => rows[row][0].Length > 0).Append(rows.Count);
        foreach (var line in lines)
        {
            Line(left, top + (line * RowHeight(size)), widths.Sum());
        }

        return top + (rows.Count * RowHeight(size));
    }

    /// <summary>Draws a thin line from left to right, which means nothing to a reader that can't see the page.</summary>
    public void Line(double left, double top, double width)
    {
        structure.BeginArtifact();
        graphics.DrawLine(new XPen(XColors.Black, 0.5), left, top, left + width, top);
        structure.End();
    }

    /// <summary>Height of a row of a table.</summary>
    public static double RowHeight(double size) => size * 1.55;

    /// <summary>Ends the page.</summary>
    /// <returns>The PDF document.</returns>
    public byte[] ToBytes()
    {
        graphics.Dispose();
        using var bytes = new MemoryStream();
        document.Save(bytes, closeStream: false);
        return bytes.ToArray();
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        graphics.Dispose();
        document.Dispose();
    }

    private static List<string> Lines(string text, double size, bool bold, double width, int greatestLines) =>
        TextLayout.Wrap(TextLayout.Plain(text), size, bold, width, greatestLines: greatestLines);
}
