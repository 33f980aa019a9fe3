using DocumentFormat.OpenXml;
using DocumentFormat.OpenXml.Packaging;
using DocumentFormat.OpenXml.Wordprocessing;
using Secondpass.Exchange.Pictures;
using Secondpass.Exchange.Sheets;
using A = DocumentFormat.OpenXml.Drawing;
using DW = DocumentFormat.OpenXml.Drawing.Wordprocessing;
using PIC = DocumentFormat.OpenXml.Drawing.Pictures;
using Picture = Secondpass.Exchange.Pictures.Picture;

namespace Secondpass.Exchange.Letters;

/// <summary>Writes a letter for a word processor: the same text, tables and pictures as on paper.</summary>
internal static class LetterDocument
{
    // In twentieths of a point: A4 and its margins, and the column that topics stand in.
    private const int PageWidth = 11906;
    private const int PageHeight = 16838;
    private const int Side = 1240;
    private const int Room = PageWidth - (2 * Side);
    private const int TopicWidth = 1840;

    // In halves of a point.
    private const int TextSize = 19;
    private const int SmallSize = 15;

    private const double EmuPerTwentieth = 635;
    private const string Face = "Arial";

    public static byte[] Write(LetterContent content)
    {
        using var bytes = new MemoryStream();
        using (var package = WordprocessingDocument.Create(bytes, WordprocessingDocumentType.Document))
        {
            package.PackageProperties.Title = TextLayout.Plain(content.Draft.Subject);
            package.PackageProperties.Creator = TextLayout.Plain(content.Facts.From.Dentist);
            package.PackageProperties.Language = "en";
            var day = content.Facts.Date.ToDateTime(TimeOnly.MinValue, DateTimeKind.Utc);
            package.PackageProperties.Created = day;
            package.PackageProperties.Modified = day;
            var main = package.AddMainDocumentPart();
            AddStyles(main);
            main.Document = new Document(new Body([.. Content(content, main), Section()]));
        }

        return bytes.ToArray();
    }

    private static void AddStyles(MainDocumentPart main) => main.AddNewPart<StyleDefinitionsPart>().Styles = new Styles(
        new DocDefaults(
            new RunPropertiesDefault(new RunPropertiesBaseStyle(
                new RunFonts { Ascii = Face, HighAnsi = Face, ComplexScript = Face },
                new FontSize { Val = $"{TextSize}" },
                new Languages { Val = "en-GB" })),
            new ParagraphPropertiesDefault(new ParagraphPropertiesBaseStyle(new SpacingBetweenLines { After = "80", Line = "264", LineRule = LineSpacingRuleValues.Auto }))),
        new Style(new StyleName { Val = "Normal" }) { Type = StyleValues.Paragraph, StyleId = "Normal", Default = true },
        Heading(1, TextSize + 4),
        Heading(2, TextSize));

    private static Style Heading(int level, int size) => new(
        new StyleName { Val = $"heading {level}" },
        new BasedOn { Val = "Normal" },
        new NextParagraphStyle { Val = "Normal" },
        new StyleParagraphProperties(new KeepNext(), new OutlineLevel { Val = level - 1 }),
        new StyleRunProperties(new Bold(), new FontSize { Val = $"{size}" }))
    {
        Type = StyleValues.Paragraph,
        StyleId = $"Heading{level}",
    };

    private static IEnumerable<OpenXmlElement> Content(LetterContent content, MainDocumentPart main)
    {
        var (draft, from) = (content.Draft, content.Facts.From);
        yield return Lines([from.Name], 30, bold: true);
        yield return Lines([string.IsNullOrWhiteSpace(from.Registration) ? from.Dentist : $"{from.Dentist}, {from.Registration}"], SmallSize + 2);
        yield return Lines([string.Join(" · ", from.AddressLines.Concat(new[] { from.Phone }.OfType<string>()))], SmallSize + 2, ruled: true);
        if (draft.Recipient.Count > 0)
        {
            yield return Lines(draft.Recipient, TextSize);
        }

        yield return Lines([CaseInWords.Date(content.Facts.Date)], TextSize, toTheRight: true);
        yield return Styled("Heading1", draft.Subject);
        yield return Lines([draft.Salutation], TextSize);
        foreach (var block in LetterBlock.Of(content))
        {
            switch (block)
            {
                case LetterBlock.Text { Topic.Length: 0 } opening:
                    yield return Lines(opening.Lines, TextSize);
                    break;
                case LetterBlock.Text text:
                    yield return Topic(text);
                    break;
                case LetterBlock.Rows rows:
                    yield return Rows(rows.Table);
                    yield return Lines([rows.Table.Caption], SmallSize);
                    break;
                default:
                    throw new NotSupportedException("No way to write " + block.GetType().Name + ".");
            }
        }

        yield return Lines([.. draft.Closing.Take(1), string.Empty, string.Empty, .. draft.Closing.Skip(1)], TextSize);
        if (draft.Kind == LetterKind.Reply && content.Facts.Films is { } films)
        {
            yield return new Paragraph(new Run(Figure(main, ComparisonOverlay.DrawWithStrips(films.Request, films.Comparison))));
            yield return Lines([ComparisonSheet.Standing], SmallSize);
        }
    }

    private static SectionProperties Section() => new(
        new PageSize { Width = PageWidth, Height = PageHeight },
        new PageMargin { Top = 900, Bottom = 900, Left = Side, Right = Side, Header = 450, Footer = 450, Gutter = 0 });

    private static Paragraph Lines(IReadOnlyList<string> lines, int size, bool bold = false, bool toTheRight = false, bool ruled = false)
    {
        var properties = new ParagraphProperties();
        if (ruled)
        {
            properties.Append(new ParagraphBorders(new BottomBorder { Val = BorderValues.Single, Size = 8, Space = 6, Color = "000000" }));
            properties.Append(new SpacingBetweenLines { After = "300" });
        }

        if (toTheRight)
        {
            properties.Append(new Justification { Val = JustificationValues.Right });
        }

        return new Paragraph([properties, .. Runs(lines, size, bold)]);
    }

    private static Paragraph Styled(string style, string text) =>
        new([new ParagraphProperties(new ParagraphStyleId { Val = style }), new Run(Written(text))]);

    /// <summary>A topic with its text beside it: a paragraph that hangs behind its bold first words.</summary>
    private static Paragraph Topic(LetterBlock.Text text) => new(
    [
        new ParagraphProperties(
            new Tabs(new TabStop { Val = TabStopValues.Left, Position = TopicWidth }),
            new Indentation { Left = $"{TopicWidth}", Hanging = $"{TopicWidth}" }),
        new Run(new RunProperties(new Bold()), Written(text.Topic), new TabChar()),
        .. Runs(text.Lines, TextSize, false),
    ]);

    private static IEnumerable<Run> Runs(IReadOnlyList<string> lines, int size, bool bold) => lines.Select((line, index) =>
    {
        var properties = bold ? new RunProperties(new Bold(), new FontSize { Val = $"{size}" }) : new RunProperties(new FontSize { Val = $"{size}" });
        return index == 0 ? new Run(properties, Written(line)) : new Run(properties, new Break(), Written(line));
    });

    private static Text Written(string text) => new(TextLayout.Plain(text)) { Space = SpaceProcessingModeValues.Preserve };

    private static Table Rows(LetterTable table)
    {
        var widths = table.Shares.Select(share => (int)Math.Round(share * Room, MidpointRounding.AwayFromZero)).ToList();
        return new Table(
        [
            new TableProperties(
                new TableWidth { Width = $"{Room}", Type = TableWidthUnitValues.Dxa },
                new TableBorders(
                    new TopBorder { Val = BorderValues.Single, Size = 6 },
                    new BottomBorder { Val = BorderValues.Single, Size = 6 },
                    new InsideHorizontalBorder { Val = BorderValues.Single, Size = 2 }),
                new TableLayout { Type = TableLayoutValues.Fixed },
                new TableCellMarginDefault(new TableCellLeftMargin { Width = 0, Type = TableWidthValues.Dxa }, new TableCellRightMargin { Width = 80, Type = TableWidthValues.Dxa })),
            new TableGrid(widths.Select(width => new GridColumn { Width = $"{width}" })),
            .. table.Rows.Select((row, index) => new TableRow(
            [
                .. index == 0 ? new OpenXmlElement[] { new TableRowProperties(new TableHeader()) } : [],
                .. row.Select((cell, column) => new TableCell(
                    new TableCellProperties(new TableCellWidth { Width = $"{widths[column]}", Type = TableWidthUnitValues.Dxa }),
                    new Paragraph([new ParagraphProperties(new SpacingBetweenLines { Before = "20", After = "20" }), .. Runs([cell], SmallSize + 2, index == 0 || column == 0)]))),
            ])),
        ]);
    }

    private static Drawing Figure(MainDocumentPart main, Picture picture)
    {
        var part = main.AddImagePart(ImagePartType.Png);
        using (var png = new MemoryStream(PngPainter.Paint(picture)))
        {
            part.FeedData(png);
        }

        var (wide, high) = ((long)(Room * EmuPerTwentieth), (long)(Room * EmuPerTwentieth * picture.Height / picture.Width));
        var described = TextLayout.Plain($"{picture.Title}. {picture.Description}");
        return new Drawing(new DW.Inline(
            new DW.Extent { Cx = wide, Cy = high },
            new DW.DocProperties { Id = 1U, Name = "Films and canals", Description = described },
            new A.Graphic(new A.GraphicData(new PIC.Picture(
                new PIC.NonVisualPictureProperties(new PIC.NonVisualDrawingProperties { Id = 2U, Name = "Films and canals" }, new PIC.NonVisualPictureDrawingProperties()),
                new PIC.BlipFill(new A.Blip { Embed = main.GetIdOfPart(part) }, new A.Stretch(new A.FillRectangle())),
                new PIC.ShapeProperties(
                    new A.Transform2D(new A.Offset { X = 0, Y = 0 }, new A.Extents { Cx = wide, Cy = high }),
                    new A.PresetGeometry(new A.AdjustValueList()) { Preset = A.ShapeTypeValues.Rectangle })))
            {
                Uri = "http://schemas.openxmlformats.org/drawingml/2006/picture",
            }))
        {
            DistanceFromTop = 0U,
            DistanceFromBottom = 0U,
            DistanceFromLeft = 0U,
            DistanceFromRight = 0U,
        });
    }
}
