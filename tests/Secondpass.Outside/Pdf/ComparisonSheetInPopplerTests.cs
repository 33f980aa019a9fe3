using System.Text.RegularExpressions;
using Secondpass.Domain.Anatomy;
using Secondpass.Exchange.Pictures;
using Secondpass.Exchange.Sheets;
using Secondpass.Tests.Exchange;

namespace Secondpass.Outside.Pdf;

/// <summary>The record sheet as poppler sees it: pdfinfo, pdffonts, pdfimages and pdftotext.</summary>
public sealed class ComparisonSheetInPopplerTests
{
    private static readonly byte[] Sheet = Write();

    [Fact]
    public void Is_one_tagged_A4_page_with_a_title()
    {
        var info = Poppler.Run("pdfinfo", Sheet, "{pdf}");

        Assert.Matches("(?m)^Pages: +1$", info);
        Assert.Matches("(?m)^Tagged: +yes$", info);
        Assert.Matches("(?m)^Title: +What is left: Visit 2$", info);
        Assert.Matches("(?m)^JavaScript: +no$", info);
        Assert.Contains("(A4)", info, StringComparison.Ordinal);
    }

    [Fact]
    public void Embeds_every_font()
    {
        var rows = Poppler.Run("pdffonts", Sheet, "{pdf}").Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(2).ToList();

        // Columns at the end: encoding, embedded, subset, unicode map, object number and generation.
        Assert.NotEmpty(rows);
        Assert.All(rows, row => Assert.Contains("DejaVu", row, StringComparison.Ordinal));
        Assert.All(rows, row => Assert.Matches(" yes +(yes|no) +(yes|no) +\\d+ +\\d+$", row));
    }

    [Fact]
    public void Holds_both_films_and_the_overlay_in_grey()
    {
        var rows = Poppler.Run("pdfimages", Sheet, "-list", "{pdf}").Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(2).ToList();

        Assert.Equal(3, rows.Count);
        Assert.All(rows, row => Assert.Matches("^ +1 +\\d+ image +\\d+ +\\d+ +gray +1 +8 ", row));
        Assert.All(rows.Take(2), row => Assert.Matches(" image +760 +1000 ", row));
    }

    [Fact]
    public void Its_text_can_be_read_and_searched()
    {
        var text = Regex.Replace(Poppler.Run("pdftotext", Sheet, "-enc", "UTF-8", "{pdf}", "-"), "\\s+", " ");

        foreach (var words in new[]
        {
            "What is left",
            "Tooth 16, upper right first molar",
            "12 % of the filling left (8–17 %)",
            "31 % (20–44 %)",
            "0.12 mm²",
            "no filling here before",
            "nothing here is proof.",
            "Secondpass is not a certified medical device; it supports a licensed clinician's judgement and never replaces it.",
        })
        {
            Assert.Contains(words, text, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Tells_its_structure_to_a_reader_that_can_not_see_it()
    {
        var structure = Poppler.Run("pdfinfo", Sheet, "-struct-text", "{pdf}");

        Assert.Equal(1, Regex.Count(structure, "(?m)^ +H1 "));
        Assert.Equal(1, Regex.Count(structure, "(?m)^ +Table "));

        // The films, five strips and the strips' legend.
        Assert.Equal(7, Regex.Count(structure, "(?m)^ +Figure"));
        Assert.Equal(10, Regex.Count(structure, "(?m)^ +TR\\r?$"));
        Assert.Contains("\"31 % (20–44 %)\"", structure, StringComparison.Ordinal);
    }

    [Fact]
    public void A_strip_alone_is_a_page_of_lines_and_letters_without_images()
    {
        var strip = PdfPainter.Paint(CanalStrip.Draw(InventedComparison.Residue(InventedComparison.Plain), InventedComparison.Scale));

        Assert.Equal(2, Poppler.Run("pdfimages", strip, "-list", "{pdf}").Split('\n', StringSplitOptions.RemoveEmptyEntries).Length);
        Assert.Contains("12 % of the filling left (8–17 %)", Poppler.Run("pdftotext", strip, "{pdf}", "-"), StringComparison.Ordinal);

        // 480 units of 1/96 inch are 360 points.
        Assert.Matches("Page size: +360 x ", Poppler.Run("pdfinfo", strip, "{pdf}"));
    }

    private static byte[] Write()
    {
        var (request, comparison) = InventedComparison.Films(InventedComparison.Molar, InventedComparison.Scale);
        return ComparisonSheet.Write(new ComparisonSheetContent("Visit 2", ToothNumber.Parse("16").Value, new DateOnly(2025, 3, 9), request, comparison));
    }
}
