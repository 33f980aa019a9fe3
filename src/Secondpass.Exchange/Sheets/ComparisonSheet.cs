using System.Globalization;
using PdfSharp.UniversalAccessibility;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;
using Secondpass.Exchange.Pictures;
using Secondpass.Exchange.Wording;

namespace Secondpass.Exchange.Sheets;

/// <summary>Writes the result of a comparison on one A4 page for the patient's record.</summary>
public static class ComparisonSheet
{
    /// <summary>The sentence that stands on every sheet.</summary>
    public const string Standing = "Secondpass is not a certified medical device; it supports a licensed clinician's judgement and never replaces it.";

    /// <summary>As many branches are drawn and tabled; more are named, with what is left of them.</summary>
    private const int GreatestBranches = 5;

    private const double TitleSize = 19;
    private const double LeadSize = 10.5;
    private const double TextSize = 7.6;
    private const double Gap = 8;
    private const double ColumnGap = 14;
    private const double RemarkIndent = 96;
    private const int GreatestRemarks = 6;

    // In units of the picture of the films, and in points: films this high are preferred to wider strips.
    private const double LeastPanelHeight = 120;
    private const double GoodPanelHeight = 250;
    private const double GreatestPanelHeight = 520;

    // 80 mm: what strips are drawn to be read at.
    private const double LeastStripWidth = 227;

    private static readonly double[] ColumnShares = [0.095, 0.07, 0.155, 0.17, 0.17, 0.17, 0.17];

    /// <summary>The sheet as a PDF document of one page: tagged, its font embedded.</summary>
    /// <param name="content">What it shows.</param>
    public static byte[] Write(ComparisonSheetContent content)
    {
        ArgumentNullException.ThrowIfNull(content);
        var (request, comparison) = (content.Request, content.Comparison);
        var shown = comparison.Branches.Take(GreatestBranches).ToList();
        var strips = CanalStrip.DrawAll(shown, request.BeforeScale, 4).Append(CanalStrip.Legend()).Chunk(2).ToList();
        var table = Table(shown, request.BeforeScale);
        var belowFilms = ComparisonOverlay.HeightBelowFilms(comparison);

        using var page = new SheetPage($"What is left: {content.Label}", content.Date);
        var column = (page.Room - ColumnGap) / 2;
        var bottom = page.Height - SheetPage.Margin - (2 * TextSize * SheetPage.LineHeight);
        var top = WriteHead(page, content);

        // Remarks give way before the films do.
        var greatestRemarks = GreatestRemarks;
        var remarks = Remarks(content, greatestRemarks);
        while (greatestRemarks > 1 && FilmHeight(LeastStripWidth) < LeastPanelHeight)
        {
            greatestRemarks--;
            remarks = Remarks(content, greatestRemarks);
        }

        var stripWidth = FilmHeight(column) >= GoodPanelHeight ? column : LeastStripWidth;
        var films = Math.Clamp(FilmHeight(stripWidth), LeastPanelHeight, GreatestPanelHeight);

        top = page.Picture(ComparisonOverlay.Draw(request, comparison, films), SheetPage.Margin, top, page.Room) + Gap;
        foreach (var row in strips)
        {
            for (var place = 0; place < row.Length; place++)
            {
                page.Picture(row[place], SheetPage.Margin + (place * (column + ColumnGap)), top, stripWidth);
            }

            top += RowHeight(row, stripWidth);
        }

        top = page.Table(table, [.. ColumnShares.Select(share => share * page.Room)], TextSize, SheetPage.Margin, top) + Gap;
        foreach (var (lead, text, greatestLines) in remarks)
        {
            if (lead.Length > 0)
            {
                page.Paragraph(PdfBlockLevelElementTag.Paragraph, lead, TextSize, SheetPage.Margin, top, RemarkIndent, bold: true, greatestLines: 1);
            }

            top = page.Paragraph(PdfBlockLevelElementTag.Paragraph, text, TextSize, SheetPage.Margin + RemarkIndent, top, page.Room - RemarkIndent, greatestLines: greatestLines);
        }

        page.Line(SheetPage.Margin, bottom + 3, page.Room);
        page.Paragraph(PdfBlockLevelElementTag.Paragraph, Standing, TextSize, SheetPage.Margin, bottom + 4, page.Room, bold: true, greatestLines: 1);
        return page.ToBytes();

        // What remains for the films when the strips are so wide, in units of their picture.
        double FilmHeight(double stripWidth)
        {
            var others = (table.Count * SheetPage.RowHeight(TextSize))
                + remarks.Sum(remark => SheetPage.HeightOf(remark.Text, TextSize, page.Room - RemarkIndent, remark.GreatestLines))
                + strips.Sum(row => RowHeight(row, stripWidth))
                + (3 * Gap);
            return ((bottom - top - others) * ComparisonOverlay.Width / page.Room) - belowFilms;
        }

        static double RowHeight(Picture[] row, double stripWidth) => (row.Max(strip => strip.Height) * stripWidth / CanalStrip.Width) + Gap;
    }

    private static double WriteHead(SheetPage page, ComparisonSheetContent content)
    {
        var tooth = content.Tooth is { } number ? $"Tooth {number}, {number.Words}" : "Tooth not given";
        var date = content.Date.ToString("d MMMM yyyy", CultureInfo.InvariantCulture);
        var top = page.Paragraph(PdfBlockLevelElementTag.Heading1, "What is left", TitleSize, SheetPage.Margin, SheetPage.Margin - 8, page.Room / 2, bold: true);
        page.Paragraph(PdfBlockLevelElementTag.Paragraph, date, LeadSize, SheetPage.Margin + (page.Room / 2), top - (LeadSize * SheetPage.LineHeight) - 3, page.Room / 2, toTheRight: true);
        top = page.Paragraph(PdfBlockLevelElementTag.Paragraph, content.Label, LeadSize, SheetPage.Margin, top, page.Room, bold: true, greatestLines: 1);
        return page.Paragraph(PdfBlockLevelElementTag.Paragraph, tooth, LeadSize, SheetPage.Margin, top, page.Room, greatestLines: 1) + Gap;
    }

    private static List<IReadOnlyList<string>> Table(List<BranchResidue> branches, Calibration? scale)
    {
        List<IReadOnlyList<string>> rows = [["Canal", "Left by", "Whole canal", "Coronal third", "Middle third", "Apical third", "Smallest patch"]];
        foreach (var residue in branches)
        {
            if (residue.Refused is not null)
            {
                rows.Add([residue.Branch.Name, "–", "no result", "–", "–", "–", "–"]);
                continue;
            }

            rows.Add([residue.Branch.Name, "mass", .. Cells(third => ResidueWords.Mass(residue, third)), ResidueWords.SmallestPatch(residue, scale)]);
            rows.Add([string.Empty, "area", .. Cells(third => ResidueWords.AreaShare(residue, third)), string.Empty]);
        }

        return rows;

        static IEnumerable<string> Cells(Func<CanalThird?, string> words) =>
            [words(null), words(CanalThird.Coronal), words(CanalThird.Middle), words(CanalThird.Apical)];
    }

    private static List<(string Lead, string Text, int GreatestLines)> Remarks(ComparisonSheetContent content, int greatestRemarks)
    {
        var (request, comparison) = (content.Request, content.Comparison);
        List<(string Lead, string Text, int GreatestLines)> remarks =
        [
            ("What it can't show", $"{CannotBeSeen(comparison, request.BeforeScale)}; what lies behind something dense is not seen; nothing here is proof.", 2),
            ("The table", "In % of the filling before, with 95 % intervals. Mass: radiopaque mass. Area: projected area of residue at least 0.10 mm thick along the ray. "
                + "Thirds: equal lengths from orifice to traced end. Smallest patch: the least residue that these two films could show.", 3),
            ("Film after", $"{States(request)}. {Registration(comparison.Registration, request.BeforeScale)}", 2),
            ("Scale", FilmWords.Scale(request.BeforeScale), 1),
            ("Films (SHA-256)", $"before {Short(request.Before.Sha256)}…, after {Short(request.After.Sha256)}…", 1),
        ];

        var refused = comparison.Branches.Where(residue => residue.Refused is not null).Select(residue => $"{residue.Branch.Name}: {residue.Refused!.Reason} {residue.Refused.Remedy}");
        var notKnown = comparison.Branches.SelectMany(WhyNotKnown);
        var notices = request.Before.Notices.Select(notice => "Film before: " + notice)
            .Concat(request.After.Notices.Select(notice => "Film after: " + notice))
            .Concat(comparison.Notices);
        remarks.AddRange(Shortened([.. refused, .. notKnown, .. notices], greatestRemarks).Select((remark, index) => (index == 0 ? "Remarks" : string.Empty, remark, 2)));

        var more = comparison.Branches.Skip(GreatestBranches).ToList();
        if (more.Count > 0)
        {
            var left = more.Select(residue => ResidueWords.Headline(residue, request.BeforeScale).TrimEnd('.'));
            remarks.Add(("More on screen", $"{more.Count} of {comparison.Branches.Count} canals are not drawn here. {string.Join("; ", left)}.", 3));
        }

        return remarks;
    }

    /// <summary>At most so many remarks; what is left out is counted.</summary>
    private static List<string> Shortened(IReadOnlyList<string> remarks, int greatest)
    {
        var distinct = remarks.Distinct().ToList();
        return distinct.Count <= greatest
            ? distinct
            : [.. distinct.Take(greatest - 1), $"{distinct.Count - greatest + 1} more remarks on screen."];
    }

    private static IEnumerable<string> WhyNotKnown(BranchResidue residue)
    {
        if (residue.Whole is { MassPercent: null, WhyNoMass: { } whyNoMass })
        {
            yield return $"{residue.Branch.Name}, mass: {whyNoMass}";
        }

        if (residue.Whole is { AreaPercent: null, WhyNoArea: { } whyNoArea })
        {
            yield return $"{residue.Branch.Name}, area: {whyNoArea}";
        }
    }

    private static string CannotBeSeen(Comparison comparison, Calibration? scale)
    {
        var limits = comparison.Branches.Where(residue => residue.Refused is null).Select(residue => residue.DetectionLimitSquarePixels).Order().ToList();
        if (limits.Count == 0)
        {
            return "no canal could be compared";
        }

        var (least, most) = (ResidueWords.SmallestPatch(limits[0], scale), ResidueWords.SmallestPatch(limits[^1], scale));
        return least == most
            ? $"residue under {most} can't be seen on this film"
            : $"residue under {least} to {most}, depending on the canal, can't be seen on this film";
    }

    private static string States(ComparisonRequest request)
    {
        var others = request.StateOfBranch
            .Where(branch => branch.Value != request.State)
            .OrderBy(branch => branch.Key, StringComparer.Ordinal)
            .Select(branch => $"; {branch.Key}: {FilmWords.State(branch.Value)}");
        return FilmWords.State(request.State) + string.Concat(others);
    }

    private static string Registration(FilmRegistration registration, Calibration? scale)
    {
        var pixels = registration.SelfRmsPixels.ToString("0.0", CultureInfo.InvariantCulture);
        var millimetres = scale is null
            ? string.Empty
            : $" ({new Millimetres(registration.SelfRmsPixels * scale.MillimetresPerPixel).Value.ToString("0.00", CultureInfo.InvariantCulture)} mm)";
        var inverted = registration.InvertedAfter ? " The film after is inverted and was turned back." : string.Empty;
        return $"Laid over each other to {pixels} pixels{millimetres} along the canals, by its own check.{inverted}";
    }

    private static string Short(string sha256) => sha256.Length > 16 ? sha256[..16] : sha256;
}
