using PdfSharp.Drawing;
using PdfSharp.Pdf;
using PdfSharp.UniversalAccessibility;
using Secondpass.Exchange.Pictures;
using Secondpass.Exchange.Sheets;

namespace Secondpass.Exchange.Letters;

/// <summary>Lays a letter out on A4 pages, tagged and with its fonts embedded, in points from the top left corner.</summary>
/// <remarks>The same steps run once without a document to count pages, and once with it to draw.</remarks>
internal sealed class LetterPaper
{
    private const double Width = 595.28;
    private const double Height = 841.89;
    private const double Side = 62;
    private const double Top = 46;
    private const double Bottom = Height - 46;
    private const double Room = Width - (2 * Side);
    private const double TopicWidth = 78;
    private const double TextWidth = Room - TopicWidth;
    private const double LineHeight = 1.36;
    private const double SmallSize = 7.4;
    private const double LeastFilmsHeight = 150;
    private const double GreatestFilmsHeight = 560;
    private const double StripGap = 10;
    private const double ColumnGap = 16;

    // Letters get smaller, never text shorter, where that saves a page or keeps the signature with the text.
    private static readonly double[] Sizes = [10, 9.7, 9.4, 9.1, 8.8, 8.5, 8.2];

    private readonly LetterContent content;
    private readonly double size;
    private readonly int pages;
    private readonly PdfDocument? document;
    private readonly StructureBuilder? structure;
    private XGraphics? graphics;
    private double top;
    private int page;

    private LetterPaper(LetterContent content, double size, int pages, PdfDocument? document)
    {
        (this.content, this.size, this.pages, this.document) = (content, size, pages, document);
        structure = document is null ? null : UAManager.ForDocument(document).StructureBuilder;
    }

    private double SmallTable => size - 1;

    /// <summary>The letter as a PDF document.</summary>
    public static byte[] Write(LetterContent content)
    {
        var (size, (pages, _)) = Sizes.Select(size => (Size: size, Fits: new LetterPaper(content, size, 0, null).Lay())).MinBy(tried => tried.Fits);
        using var document = new PdfDocument();
        document.Info.Title = TextLayout.Plain(content.Draft.Subject);
        document.Info.Author = TextLayout.Plain(content.Facts.From.Dentist);
        document.Info.Creator = "Secondpass";
        document.Info.CreationDate = content.Facts.Date.ToDateTime(TimeOnly.MinValue, DateTimeKind.Utc);
        document.Info.ModificationDate = document.Info.CreationDate;
        document.ViewerPreferences.DisplayDocTitle = true;
        UAManager.ForDocument(document).SetDocumentLanguage("en");
        var paper = new LetterPaper(content, size, pages, document);
        paper.Lay();
        paper.graphics!.Dispose();
        using var bytes = new MemoryStream();
        document.Save(bytes, closeStream: false);
        return bytes.ToArray();
    }

    /// <summary>Lays everything out.</summary>
    /// <returns>How many pages it takes, and on which one it is signed.</returns>
    private (int Pages, int SignedOn) Lay()
    {
        NewPage();
        Letterhead();
        Recipient();
        Paragraph(PdfBlockLevelElementTag.Heading1, [content.Draft.Subject], size + 1.6, Side, Room, bold: true);
        top += size * 0.7;
        Paragraph(PdfBlockLevelElementTag.Paragraph, [content.Draft.Salutation], size, Side, Room);
        top += size * 0.55;
        foreach (var block in LetterBlock.Of(content))
        {
            switch (block)
            {
                case LetterBlock.Text { Topic.Length: 0 } opening:
                    Paragraph(PdfBlockLevelElementTag.Paragraph, opening.Lines, size, Side, Room);
                    break;
                case LetterBlock.Text text:
                    Topic(text);
                    break;
                case LetterBlock.Rows rows:
                    Table(rows.Table);
                    break;
                default:
                    throw new NotSupportedException("No way to lay out " + block.GetType().Name + ".");
            }

            top += size * 0.62;
        }

        Closing();
        var signedOn = page;
        if (content.Draft.Kind == LetterKind.Reply && content.Facts.Films is { } films)
        {
            Films(films);
        }

        return (page, signedOn);
    }

    private void NewPage()
    {
        page++;
        top = Top;
        if (document is null)
        {
            return;
        }

        graphics?.Dispose();
        var added = document.AddPage();
        added.Size = PdfSharp.PageSize.A4;
        graphics = XGraphics.FromPdfPage(added);
        structure!.BeginArtifact();
        var foot = $"{content.Draft.Subject} · {CaseInWords.Date(content.Facts.Date)}";
        Draw(TextLayout.Fit(TextLayout.Plain(foot), SmallSize, false, Room - 60, narrow: true), SmallSize, false, Side, Bottom + 18, XStringAlignment.Near, quiet: true);
        Draw(FormattableString.Invariant($"page {page} of {pages}"), SmallSize, false, Side + Room, Bottom + 18, XStringAlignment.Far, quiet: true);
        structure.End();
    }

    private void Letterhead()
    {
        var from = content.Facts.From;
        var begins = top;
        string[] aside = [.. from.AddressLines, .. new[] { from.Phone }.OfType<string>()];
        Paragraph(PdfBlockLevelElementTag.Paragraph, [from.Name], 15, Side, Room * 0.62, bold: true);
        Paragraph(PdfBlockLevelElementTag.Paragraph, [string.IsNullOrWhiteSpace(from.Registration) ? from.Dentist : $"{from.Dentist}, {from.Registration}"], 8.8, Side, Room * 0.62);
        var left = top;
        top = begins + 3;
        Paragraph(PdfBlockLevelElementTag.Paragraph, aside, 8.8, Side + (Room * 0.62), Room * 0.38, toTheRight: true);
        top = Math.Max(left, top) + 7;
        Line(top, 1.1);
        top += 16;
    }

    private void Recipient()
    {
        var begins = top;
        Paragraph(PdfBlockLevelElementTag.Paragraph, content.Draft.Recipient, size, Side, Room * 0.65);
        var below = top;
        top = begins;
        Paragraph(PdfBlockLevelElementTag.Paragraph, [CaseInWords.Date(content.Facts.Date)], size, Side + (Room * 0.65), Room * 0.35, toTheRight: true);
        top = Math.Max(below, top) + (size * 1.6);
    }

    private void Topic(LetterBlock.Text text)
    {
        Need(size * LineHeight * Math.Min(2, Wrapped(text.Lines, size, false, TextWidth).Count));
        var (begins, on) = (top, page);
        Paragraph(PdfBlockLevelElementTag.Heading2, [text.Topic], size, Side, TopicWidth - 8, bold: true);
        var below = top;
        top = begins;
        Paragraph(PdfBlockLevelElementTag.Paragraph, text.Lines, size, Side + TopicWidth, TextWidth);
        top = page == on ? Math.Max(top, below) : top;
    }

    private void Closing()
    {
        var lines = content.Draft.Closing;
        Need((lines.Count * size * LineHeight) + 30);
        top += size * 0.5;
        Paragraph(PdfBlockLevelElementTag.Paragraph, [.. lines.Take(1)], size, Side, Room);
        top += 26;
        Paragraph(PdfBlockLevelElementTag.Paragraph, [.. lines.Skip(1)], size, Side, Room);
    }

    private void Paragraph(PdfBlockLevelElementTag tag, IReadOnlyList<string> lines, double letters, double left, double width, bool bold = false, bool toTheRight = false)
    {
        structure?.BeginElement(tag);
        foreach (var line in Wrapped(lines, letters, bold, width))
        {
            var height = letters * LineHeight;
            if (top + height > Bottom)
            {
                structure?.End();
                NewPage();
                structure?.BeginElement(tag);
            }

            top += height;
            Draw(line, letters, bold, toTheRight ? left + width : left, top - (letters * 0.34), toTheRight ? XStringAlignment.Far : XStringAlignment.Near);
        }

        structure?.End();
    }

    private void Table(LetterTable table)
    {
        var widths = table.Shares.Select(share => share * Room).ToList();
        var cells = table.Rows.Select((row, index) => row.Select((cell, column) => Wrapped([cell], SmallTable, index == 0 || column == 0, widths[column] - 8)).ToList()).ToList();
        var heights = cells.Select(row => (row.Max(cell => cell.Count) * SmallTable * 1.28) + 4).ToList();
        var caption = Wrapped([table.Caption], SmallSize, false, Room).Count * SmallSize * LineHeight;
        Need(heights.Sum() + caption + 6);
        structure?.BeginElement(PdfBlockLevelElementTag.Table);
        Line(top, 0.7);
        for (var row = 0; row < cells.Count; row++)
        {
            structure?.BeginElement(PdfBlockLevelElementTag.TableRow);
            var left = Side;
            for (var column = 0; column < widths.Count; column++)
            {
                var isHeading = row == 0 || column == 0;
                structure?.BeginElement(isHeading ? PdfBlockLevelElementTag.TableHeaderCell : PdfBlockLevelElementTag.TableDataCell);
                var baseLine = top + 2;
                foreach (var line in cells[row][column])
                {
                    baseLine += SmallTable * 1.28;
                    Draw(line, SmallTable, isHeading, left, baseLine - (SmallTable * 0.28), XStringAlignment.Near);
                }

                structure?.End();
                left += widths[column];
            }

            structure?.End();
            top += heights[row];
            Line(top, row == 0 || row == cells.Count - 1 ? 0.7 : 0.25);
        }

        structure?.End();
        top += 2;
        Paragraph(PdfBlockLevelElementTag.Paragraph, [table.Caption], SmallSize, Side, Room);
    }

    /// <summary>Films and strips: below the letter where there is room, else on a page of their own.</summary>
    private void Films(LetterFilms films)
    {
        var strips = CanalStrip.DrawAll(films.Comparison.Branches, films.Request.BeforeScale, 4).Append(CanalStrip.Legend()).Chunk(2).ToList();
        var column = (Room - ColumnGap) / 2;
        var others = strips.Sum(row => RowHeight(row)) + (2 * StripGap) + (6 * SmallSize * LineHeight) + HeightOf(ComparisonOverlay.HeightBelowFilms(films.Comparison));
        top += 18;
        if (Bottom - top - others < HeightOf(LeastFilmsHeight))
        {
            NewPage();
        }

        Paragraph(PdfBlockLevelElementTag.Heading2, ["The films before and after, and what they show to be left"], size, Side, Room, bold: true);
        top += 4;
        var drawn = ComparisonOverlay.Draw(films.Request, films.Comparison, Math.Clamp((Bottom - top - others) * ComparisonOverlay.Width / Room, LeastFilmsHeight, GreatestFilmsHeight));
        Picture(drawn, Side, Room);
        top += StripGap;
        foreach (var row in strips)
        {
            Need(RowHeight(row));
            var begins = top;
            for (var place = 0; place < row.Length; place++)
            {
                top = begins;
                Picture(row[place], Side + (place * (column + ColumnGap)), column);
            }

            top = begins + RowHeight(row);
        }

        Paragraph(PdfBlockLevelElementTag.Paragraph, ["Read off the two films, in % of the filling before with 95 % intervals: estimates, no proof. " + ComparisonSheet.Standing], SmallSize, Side, Room);

        double RowHeight(Picture[] row) => row.Max(strip => strip.Height * column / strip.Width) + StripGap;

        static double HeightOf(double units) => units * Room / ComparisonOverlay.Width;
    }

    private void Picture(Picture picture, double left, double width)
    {
        var height = picture.Height * width / picture.Width;
        if (graphics is not null)
        {
            structure!.BeginElement(PdfIllustrationElementTag.Figure, TextLayout.Plain($"{picture.Title}. {picture.Description}"), new XRect(left, Height - top - height, width, height));
            PdfPainter.Paint(graphics, picture, left, top, width);
            structure.End();
        }

        top += height;
    }

    /// <summary>Goes to a new page where so much doesn't fit on this one.</summary>
    private void Need(double height)
    {
        if (top + height > Bottom && top > Top)
        {
            NewPage();
        }
    }

    private void Line(double at, double width)
    {
        if (graphics is not null)
        {
            structure!.BeginArtifact();
            graphics.DrawLine(new XPen(XColors.Black, width), Side, at, Side + Room, at);
            structure.End();
        }
    }

    private void Draw(string line, double letters, bool bold, double x, double baseLine, XStringAlignment alignment, bool quiet = false) => graphics?.DrawString(
        line,
        EmbeddedFontResolver.Font(letters, bold, narrow: true),
        quiet ? new XSolidBrush(XColor.FromArgb(77, 77, 77)) : XBrushes.Black,
        x,
        baseLine,
        new XStringFormat { Alignment = alignment, LineAlignment = XLineAlignment.BaseLine });

    private static List<string> Wrapped(IReadOnlyList<string> lines, double letters, bool bold, double width) =>
        [.. lines.SelectMany(line => TextLayout.Wrap(TextLayout.Plain(line), letters, bold, width, narrow: true))];
}
