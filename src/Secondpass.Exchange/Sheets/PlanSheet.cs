using System.Globalization;
using PdfSharp.Drawing;
using PdfSharp.Pdf;
using PdfSharp.UniversalAccessibility;
using Secondpass.Domain.Instruments;
using Secondpass.Domain.Plans;
using Secondpass.Domain.Quantities;
using Secondpass.Exchange.Pictures;
using Secondpass.Exchange.Wording;

namespace Secondpass.Exchange.Sheets;

/// <summary>Writes a plan for the tray on A5 pages, two canals a page where they fit: a table of stops, then what is said of them once for all steps that it holds for.</summary>
/// <remarks>The same steps run once without a document to see what fits, and once with it to draw. Points from the top left corner.</remarks>
public sealed class PlanSheet
{
    private const double Width = 419.53;
    private const double Height = 595.28;
    private const double Side = 22;
    private const double Top = 18;
    private const double Bottom = Height - 30;
    private const double Room = Width - (2 * Side);
    private const double LineHeight = 1.24;
    private const double LeadWidth = 58;
    private const double Larger = 3;
    private const double Descent = 0.28;
    private const string Unknown = "–";

    // Letters get smaller where that saves a page; smaller ones than these are not read at arm's length.
    private static readonly double[] Sizes = [8.6, 8.3, 8, 7.7, 7.4, 7.1];

    private static readonly string[] Heads = ["No.", "Taper or size", "Instrument", "Stop at", "Short of end", "rpm · N·cm", "Wall left", "Cut a side", "Filling cut"];
    private static readonly double[] Shares = [0.05, 0.095, 0.255, 0.115, 0.105, 0.115, 0.085, 0.09, 0.09];

    private readonly PlanSheetContent content;
    private readonly double size;
    private readonly int pages;
    private readonly PdfDocument? document;
    private readonly StructureBuilder? structure;
    private XGraphics? graphics;
    private double top;
    private int page;

    private PlanSheet(PlanSheetContent content, double size, int pages, PdfDocument? document)
    {
        (this.content, this.size, this.pages, this.document) = (content, size, pages, document);
        structure = document is null ? null : UAManager.ForDocument(document).StructureBuilder;
    }

    private string Tooth => content.Tooth is { } tooth ? $"Tooth {tooth}, {tooth.Words}" : "Tooth not given";

    // A plan that isn't of a case has no patient, and no line for one.
    private string? Patient => content.Patient is { } patient
        ? patient.Name is { } name ? $"Patient {patient.Number}, {name}" : $"Patient {patient.Number}"
        : null;

    /// <summary>The plan as a PDF document: A5, tagged, its fonts embedded, tooth in words and patient number on every page.</summary>
    /// <param name="content">What it shows.</param>
    public static byte[] Write(PlanSheetContent content)
    {
        ArgumentNullException.ThrowIfNull(content);
        var (size, pages) = Sizes.Select(size => (Size: size, Pages: new PlanSheet(content, size, 0, null).Lay())).MinBy(tried => tried.Pages);
        using var document = new PdfDocument();
        var sheet = new PlanSheet(content, size, pages, document);
        document.Info.Title = TextLayout.Plain($"Plan: {string.Join(", ", ((string?[])[sheet.Tooth, sheet.Patient]).OfType<string>())}");
        document.Info.Creator = "Secondpass";
        document.Info.CreationDate = content.Date.ToDateTime(TimeOnly.MinValue, DateTimeKind.Utc);
        document.Info.ModificationDate = document.Info.CreationDate;
        document.ViewerPreferences.DisplayDocTitle = true;
        UAManager.ForDocument(document).SetDocumentLanguage("en");
        sheet.Lay();
        sheet.graphics!.Dispose();
        using var bytes = new MemoryStream();
        document.Save(bytes, closeStream: false);
        return bytes.ToArray();
    }

    private int Lay()
    {
        NewPage();
        Paragraph(PdfBlockLevelElementTag.Paragraph, $"Sequence: {content.Plan.Name}", size, Side, Room);
        var numbered = content.Plan.Steps.Select((step, i) => new Numbered(i + 1, step)).ToList();
        var takeDown = numbered.Where(one => one.Step.Phase == RemovalPhase.TakeDown).ToList();
        var canals = numbered.Except(takeDown).GroupBy(one => one.Step.Branch).Select(group => group.ToList()).ToList();
        for (var at = 0; at < canals.Count || at == 0;)
        {
            if (at > 0)
            {
                NewPage();
            }

            var before = at == 0 ? takeDown : [];
            var two = canals.Skip(at).Take(2).ToList();
            var shown = two.Count == 2 && !Fits(before, two) ? [two[0]] : two;
            Canals(before, shown);
            at += Math.Max(1, shown.Count);
        }

        Block("Not taken", content.Plan.Refusals.Select(refusal => $"{refusal.Reason} {refusal.Remedy}"));
        Block("It rests on", content.Plan.Assumptions);
        return page;
    }

    private bool Fits(IReadOnlyList<Numbered> takeDown, IReadOnlyList<IReadOnlyList<Numbered>> canals)
    {
        var tried = new PlanSheet(content, size, 0, null) { page = page, top = top };
        tried.Canals(takeDown, canals);
        return tried.page == page;
    }

    private void Canals(IReadOnlyList<Numbered> takeDown, IReadOnlyList<IReadOnlyList<Numbered>> canals)
    {
        if (takeDown.Count > 0)
        {
            Heading("Take-down");
            foreach (var one in takeDown)
            {
                Said(Number(one.Number), one.Step.Branch is { } branch ? $"{branch}: {one.Step.Action}" : one.Step.Action);
            }
        }

        foreach (var canal in canals)
        {
            Heading(canal[0].Step.Branch ?? "Whole tooth");
            if (canal.Select(one => one.Step.Reference).OfType<string>().Distinct().ToList() is { Count: > 0 } references)
            {
                Paragraph(PdfBlockLevelElementTag.Paragraph, $"Stops from the {string.Join(", ", references)}, in mm.", size, Side, Room);
            }

            Table(canal);
        }

        List<Numbered> all = [.. takeDown, .. canals.SelectMany(canal => canal)];
        Once("Do", all.Where(one => one.Step.Phase != RemovalPhase.TakeDown), step => [step.Action]);
        Once("Limit", all, step => [step.BindingLimit]);
        Once("Set before", all, step => [PlanWords.Limits(step)]);
        Once("Mind", all, step => step.Cautions);
    }

    // Each sentence stands once, with the numbers of the steps that it holds for.
    private void Once(string heading, IEnumerable<Numbered> steps, Func<RemovalStep, IReadOnlyList<string>> sentences)
    {
        var said = steps
            .SelectMany(one => sentences(one.Step).Where(sentence => sentence.Length > 0).Select(sentence => (one.Number, Sentence: sentence)))
            .GroupBy(one => one.Sentence, one => one.Number)
            .ToList();
        if (said.Count == 0)
        {
            return;
        }

        Heading(heading);
        foreach (var sentence in said)
        {
            Said(PlanWords.Numbers([.. sentence.Distinct()]), sentence.Key);
        }
    }

    private void Block(string heading, IEnumerable<string> sentences)
    {
        var all = sentences.ToList();
        if (all.Count == 0)
        {
            return;
        }

        Heading(heading);
        foreach (var sentence in all)
        {
            Said("·", sentence);
        }
    }

    private void Heading(string text)
    {
        top += size * 0.5;
        Need(size * LineHeight * 3.2);
        Paragraph(PdfBlockLevelElementTag.Heading2, text, size + 1.2, Side, Room, bold: true);
    }

    private void Said(string lead, string text)
    {
        var leadWidth = lead == "·" ? size : LeadWidth;
        var lines = Wrapped(text, size, false, Room - leadWidth);
        var leads = Wrapped(lead, size, true, leadWidth - 4);
        Need(Math.Max(leads.Count, lines.Count) * size * LineHeight);
        var begins = top;
        structure?.BeginElement(PdfBlockLevelElementTag.Paragraph);
        Lines(leads, size, true, Side);
        var below = top;
        top = begins;
        Lines(lines, size, false, Side + leadWidth);
        structure?.End();
        top = Math.Max(top, below) + 1;
    }

    private void Table(IReadOnlyList<Numbered> steps)
    {
        var widths = Shares.Select(share => share * Room).ToList();
        List<IReadOnlyList<string>> rows = [Heads, .. steps.Select(Row)];
        structure?.BeginElement(PdfBlockLevelElementTag.Table);
        Line(0.7);
        foreach (var (index, row) in rows.Index())
        {
            var cells = row.Select((cell, column) => Wrapped(cell, SizeOf(index, column), IsBold(index, column), widths[column] - 4)).ToList();
            var height = cells.Select((cell, column) => Lowered(index, column) + (cell.Count * SizeOf(index, column) * LineHeight)).Max() + 2;
            var begins = top;
            structure?.BeginElement(PdfBlockLevelElementTag.TableRow);
            var left = Side;
            for (var column = 0; column < cells.Count; column++)
            {
                structure?.BeginElement(index == 0 || column == 0 ? PdfBlockLevelElementTag.TableHeaderCell : PdfBlockLevelElementTag.TableDataCell);
                top = begins + Lowered(index, column);
                Lines(cells[column], SizeOf(index, column), IsBold(index, column), left);
                structure?.End();
                left += widths[column];
            }

            structure?.End();
            top = begins + height;
            Line(index == 0 || index == rows.Count - 1 ? 0.7 : 0.25);
        }

        structure?.End();
        Overflow();

        // The sign and the stop are what is looked for; the stop is the first of the two that is known.
        bool IsLarge(int row, int column) => row > 0 && rows[row][column] != Unknown && (column is 1 or 3 || (column == 4 && rows[row][3] == Unknown));

        double SizeOf(int row, int column) => row == 0 ? size - 1.2 : IsLarge(row, column) ? size + Larger : size;

        double Lowered(int row, int column) => row == 0 || IsLarge(row, column) ? 0 : Larger * (LineHeight - Descent);

        bool IsBold(int row, int column) => row == 0 || column == 0 || IsLarge(row, column);
    }

    private IReadOnlyList<string> Row(Numbered one)
    {
        var step = one.Step;
        string?[] run = [step.SpeedRpm?.ToString("0.##", CultureInfo.InvariantCulture), step.TorqueNewtonCentimetres?.ToString("0.##", CultureInfo.InvariantCulture)];
        return
        [
            Number(one.Number),
            Sign(step),
            (step.Instrument ?? "by hand and bur") + (step.Use is { } use ? $", {use.CalledBy}, {use.InWords}" : string.Empty),
            Millimetres(step.StopFromReference, "0.0"),
            Millimetres(step.StopFromEnd, "0.0"),
            run.Any(part => part is not null) ? string.Join(" · ", run.Select(part => part ?? Unknown)) : Unknown,
            Millimetres(step.WallLeft, "0.00"),
            Millimetres(step.LossPerSide, "0.00"),
            step.Volumes is { } volumes ? volumes.FillingCutCubicMillimetres.ToString("0.0", CultureInfo.InvariantCulture) + " mm³" : Unknown,
        ];
    }

    private string Sign(RemovalStep step) => content.Kinds.FirstOrDefault(kind => kind.Code == step.KindCode) switch
    {
        InstrumentKind { Taper: > 0 } tapered => tapered.Taper.Value.ToString(".00", CultureInfo.InvariantCulture),
        InstrumentKind { TipSize: { } tip } => Number(tip),
        _ => Unknown,
    };

    private void NewPage()
    {
        page++;
        top = Top;
        if (document is not null)
        {
            graphics?.Dispose();
            var added = document.AddPage();
            added.Size = PdfSharp.PageSize.A5;
            graphics = XGraphics.FromPdfPage(added);
            structure!.BeginArtifact();
            Draw(TextLayout.Fit($"{content.Date.ToString("d MMMM yyyy", CultureInfo.InvariantCulture)} · page {Number(page)} of {Number(pages)} · {ComparisonSheet.Standing}", 5.6, false, Room, narrow: true), 5.6, false, Side, Height - 16);
            structure.End();
        }

        Paragraph(page == 1 ? PdfBlockLevelElementTag.Heading1 : PdfBlockLevelElementTag.Paragraph, Tooth, 13, Side, Room, bold: true);
        if (Patient is { } patient)
        {
            Paragraph(PdfBlockLevelElementTag.Paragraph, patient, 11, Side, Room, bold: true);
        }

        top += 3;
        Line(1.1);
        top += 3;
    }

    private void Paragraph(PdfBlockLevelElementTag tag, string text, double letters, double left, double width, bool bold = false)
    {
        structure?.BeginElement(tag);
        Lines(Wrapped(text, letters, bold, width), letters, bold, left);
        structure?.End();
        Overflow();
    }

    private void Lines(IReadOnlyList<string> lines, double letters, bool bold, double left)
    {
        foreach (var line in lines)
        {
            top += letters * LineHeight;
            Draw(line, letters, bold, left, top - (letters * Descent));
        }
    }

    /// <summary>Goes to a new page where so much doesn't fit on this one.</summary>
    private void Need(double height)
    {
        if (top + height > Bottom)
        {
            NewPage();
        }
    }

    // What stands on a page already stays there; the next begins another one. Counts as not fitting.
    private void Overflow() => Need(0);

    private void Line(double width)
    {
        if (graphics is not null)
        {
            structure!.BeginArtifact();
            graphics.DrawLine(new XPen(XColors.Black, width), Side, top, Side + Room, top);
            structure.End();
        }
    }

    private void Draw(string line, double letters, bool bold, double x, double baseLine) => graphics?.DrawString(
        line,
        EmbeddedFontResolver.Font(letters, bold, narrow: true),
        XBrushes.Black,
        x,
        baseLine,
        new XStringFormat { LineAlignment = XLineAlignment.BaseLine });

    private static string Millimetres(Millimetres? length, string format) => length?.Value.ToString(format, CultureInfo.InvariantCulture) ?? Unknown;

    private static string Number(int number) => number.ToString(CultureInfo.InvariantCulture);

    private static List<string> Wrapped(string text, double letters, bool bold, double width) =>
        TextLayout.Wrap(TextLayout.Plain(text), letters, bold, width, narrow: true);

    private sealed record Numbered(int Number, RemovalStep Step);
}
