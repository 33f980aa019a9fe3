using System.Text.RegularExpressions;
using Secondpass.Exchange.Letters;
using Secondpass.Tests.Exchange.Letters;

namespace Secondpass.Outside.Pdf;

/// <summary>A letter as poppler sees it: pdfinfo, pdffonts and pdftotext.</summary>
public sealed class LetterInPopplerTests
{
    private static readonly byte[] Letter = Write();

    [Fact]
    public void Is_tagged_A4_with_a_title()
    {
        var info = Poppler.Run("pdfinfo", Letter, "{pdf}");

        Assert.Matches("(?m)^Pages: +2$", info);
        Assert.Matches("(?m)^Tagged: +yes$", info);
        Assert.Matches("(?m)^Title: +Jo Invented, patient number 10432: upper right first molar \\(tooth 16\\), root-canal re-treatment$", info);
        Assert.Matches("(?m)^JavaScript: +no$", info);
        Assert.Contains("(A4)", info, StringComparison.Ordinal);
    }

    [Fact]
    public void Embeds_every_font()
    {
        var rows = Poppler.Run("pdffonts", Letter, "{pdf}").Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(2).ToList();

        // Columns at the end: encoding, embedded, subset, unicode map, object number and generation.
        Assert.NotEmpty(rows);
        Assert.All(rows, row => Assert.Matches(" yes +(yes|no) +(yes|no) +\\d+ +\\d+$", row));
    }

    [Fact]
    public void Its_figures_can_be_read_and_searched()
    {
        var text = Regex.Replace(Poppler.Run("pdftotext", Letter, "-enc", "UTF-8", "{pdf}", "-"), "\\s+", " ");

        foreach (var words in new[]
        {
            "upper right first molar (tooth 16)",
            "Removing the old filling took 11 min, hands-on throughout.",
            "sodium hypochlorite 3 %, 21 ml, 18.5 min, ultrasonically activated; EDTA 17 %, 3.5 ml, 1 min",
            "12 % of the filling left (8–17 %)",
            "residue under 0.12 mm² can't be seen",
            "the fragment is 2.5 mm long; level 16.5 mm from the distobuccal cusp",
            "18.75 mm",
            "1 April 2026",
        })
        {
            Assert.Contains(words, text, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Tells_its_structure_to_a_reader_that_can_not_see_it()
    {
        var structure = Poppler.Run("pdfinfo", Letter, "-struct-text", "{pdf}");

        Assert.Equal(1, Regex.Count(structure, "(?m)^ +H1 "));
        Assert.Equal(2, Regex.Count(structure, "(?m)^ +Table "));

        // Found, done, left, not treated, events, next, and the films.
        Assert.Equal(7, Regex.Count(structure, "(?m)^ +H2 "));

        // The films, two strips and the strips' legend.
        Assert.Equal(4, Regex.Count(structure, "(?m)^ +Figure"));

        // Two rows of minutes, five of canals.
        Assert.Equal(7, Regex.Count(structure, "(?m)^ +TR\\r?$"));
    }

    private static byte[] Write()
    {
        var facts = InventedLetter.Facts(InventedLetter.Finished);
        return LetterWriter.Write(new LetterContent(ReplyDraft.Of(facts), facts)).Pdf;
    }
}
