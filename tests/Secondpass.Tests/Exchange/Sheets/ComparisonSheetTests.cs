using System.Text.RegularExpressions;
using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Exchange.Sheets;
using UglyToad.PdfPig;
using UglyToad.PdfPig.Content;

namespace Secondpass.Tests.Exchange.Sheets;

public sealed class ComparisonSheetTests
{
    private static readonly DateOnly Day = new(2025, 3, 9);

    [Fact]
    public void Holds_everything_that_the_record_needs()
    {
        var text = Text(Write(InventedComparison.Molar, notices: ["The film after was exposed less."]));

        foreach (var words in new[]
        {
            "What is left",
            "Visit 2, before the dressing",
            "Tooth 16, upper right first molar",
            "9 March 2025",
            "Film before",
            "Film after, laid over the film before",
            "12 % of the filling left (8–17 %)",
            "31 % (20–44 %)",
            "no filling here before",
            "counted with trunk",
            "unclear (0–11 %)",
            "no filling visible on this film; residue under 0.12 mm² can't be seen; 0–6 % may be left, and along 18 % of the filling these films can't tell",
            "residue under 0.12 mm² can't be seen on this film; what lies behind something dense is not seen; nothing here is proof.",
            "filling removed, nothing put in",
            "Laid over each other to 0.4 pixels (0.01 mm) along the canals, by its own check.",
            "0.03 mm per pixel, from the film's file",
            "before 5b1c6e0f9a000000…, after e47d2210c3000000…",
            "DL: An instrument stands in this canal on the film after, so what is left of the filling can't be told from it. Take a film without the instrument if one is needed anyway.",
            "The film after was exposed less.",
            "Secondpass is not a certified medical device; it supports a licensed clinician's judgement and never replaces it.",
        })
        {
            Assert.Contains(words, text, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Never_promises_and_never_shows_what_is_no_number()
    {
        var text = Text(Write(InventedComparison.Molar));

        foreach (var word in new[] { "proven", "clean", "NaN", "∞", "TODO" })
        {
            Assert.DoesNotContain(word, text, StringComparison.OrdinalIgnoreCase);
        }

        Assert.DoesNotMatch(new Regex("[-−]\\d+ ?%"), text);
    }

    [Theory]
    [InlineData(1, 760, 1000)]
    [InlineData(2, 760, 1000)]
    [InlineData(3, 1000, 760)]
    [InlineData(5, 900, 1300)]
    [InlineData(5, 1300, 900)]
    [InlineData(9, 500, 1500)]
    public void Fits_on_one_page_whatever_the_canals_and_the_shape_of_the_films(int canals, int width, int height)
    {
        var many = Enumerable.Range(0, canals).Select(index => InventedComparison.Molar[index % 4] with { Name = "C" + index.ToString(CultureInfo.InvariantCulture), BranchName = null }).ToList();

        AssertFits(Write(many, width: width, height: height));
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Fits_on_one_page_when_every_text_is_long(bool areRefused)
    {
        var wordy = string.Join(' ', Enumerable.Repeat("wordy", 80));
        var canals = Enumerable.Range(0, 7).Select(index => InventedComparison.Molar[areRefused ? 3 : 1] with
        {
            Name = new string((char)('A' + index), 60),
            Refused = areRefused ? new Refusal("test", wordy + index.ToString(CultureInfo.InvariantCulture), wordy) : null,
        }).ToList();

        var document = Write(canals, label: wordy, notices: [.. Enumerable.Range(0, 30).Select(index => $"{index} {wordy}")]);

        AssertFits(document);
        Assert.Matches(new Regex("\\d\\d more remarks on screen\\."), Text(document));
    }

    [Fact]
    public void Names_what_is_left_in_canals_beyond_the_fifth()
    {
        var canals = Enumerable.Range(1, 7).Select(index => new InventedCanal("C" + index.ToString(CultureInfo.InvariantCulture)) { Whole = InventedCanal.Share(10 * index, (10 * index) - 2, (10 * index) + 2) }).ToList();

        var text = Text(Write(canals));

        Assert.Contains("2 of 7 canals are not drawn here. C6: 60 % of the filling left (58–62 %); C7: 70 % of the filling left (68–72 %).", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Says_which_branches_hold_something_else_on_the_film_after()
    {
        var (request, comparison) = InventedComparison.Films(InventedComparison.Molar, InventedComparison.Scale);
        var states = new Dictionary<string, AfterState> { ["P"] = AfterState.Removed, ["DL"] = AfterState.InstrumentIn, ["DB"] = AfterState.Refilled };

        var text = Text(ComparisonSheet.Write(new ComparisonSheetContent("x", null, Day, request with { StateOfBranch = states }, comparison)));

        Assert.Contains("filling removed, nothing put in; DB: canal filled again; DL: instrument in the canal.", text, StringComparison.Ordinal);
        Assert.Contains("Tooth not given", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Speaks_of_pixels_where_there_is_no_scale()
    {
        var text = Text(Write([InventedComparison.Plain], scale: null));

        Assert.Contains("no scale: lengths in pixels, areas in square pixels", text, StringComparison.Ordinal);
        Assert.Contains("residue under 133 square pixels can't be seen on this film", text, StringComparison.Ordinal);
        Assert.DoesNotContain("mm²", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Gives_the_range_of_the_smallest_patches_where_they_differ()
    {
        var (request, comparison) = InventedComparison.Films(InventedComparison.Molar, InventedComparison.Scale);
        var differing = comparison with { Branches = [.. comparison.Branches.Select((residue, index) => residue with { DetectionLimitSquarePixels = 100 * (index + 1) })] };

        var text = Text(ComparisonSheet.Write(new ComparisonSheetContent("x", null, Day, request, differing)));

        Assert.Contains("residue under 0.09 mm² to 0.36 mm², depending on the canal, can't be seen on this film", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Gives_the_reason_where_a_mass_is_not_known()
    {
        var noMass = new InventedCanal("P") { Whole = new ResidueShare(InventedCanal.Share(40, 30, 50).AreaPercent, null, WhyNoMass: "The film is too light here."), Left = [new(0.2, 0.6)] };

        var text = Text(Write([noMass]));

        Assert.Contains("P, mass: The film is too light here.", text, StringComparison.Ordinal);
        Assert.Contains("not known", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Writes_a_label_of_any_characters()
    {
        var document = Write([InventedComparison.Plain], label: "Zoë\0 <b>\r\n\"1,5\" \uD83D žluťoučký");

        AssertFits(document);
        Assert.Contains("Zoë <b> \"1,5\" \uFFFD žluťoučký", Text(document), StringComparison.Ordinal);
    }

    [Fact]
    public void Has_a_title_a_language_tags_and_the_day_it_was_given()
    {
        using var document = PdfDocument.Open(Write([InventedComparison.Plain]));
        var catalog = document.Structure.Catalog.CatalogDictionary;

        Assert.Equal("What is left: Visit 2, before the dressing", document.Information.Title);
        Assert.StartsWith("D:20250309", document.Information.CreationDate, StringComparison.Ordinal);
        Assert.Equal("en", Assert.IsType<UglyToad.PdfPig.Tokens.StringToken>(catalog.Data["Lang"]).Data);
        Assert.Contains("StructTreeRoot", catalog.Data.Keys);
    }

    [Fact]
    public void Says_the_same_on_a_machine_that_writes_commas()
    {
        var german = (CultureInfo)CultureInfo.InvariantCulture.Clone();
        german.NumberFormat.NumberDecimalSeparator = ",";
        german.DateTimeFormat.MonthNames = [.. german.DateTimeFormat.MonthNames.Select(name => name + "x")];
        var expected = Text(Write([InventedComparison.Plain]));
        var before = CultureInfo.CurrentCulture;
        CultureInfo.CurrentCulture = german;
        try
        {
            Assert.Equal(expected, Text(Write([InventedComparison.Plain])));
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    private static byte[] Write(
        IReadOnlyList<InventedCanal> canals, string label = "Visit 2, before the dressing", IReadOnlyList<string>? notices = null, int width = 760, int height = 1000) =>
        Write(canals, InventedComparison.Scale, label, notices, width, height);

    private static byte[] Write(
        IReadOnlyList<InventedCanal> canals, Calibration? scale, string label = "Visit 2, before the dressing", IReadOnlyList<string>? notices = null, int width = 760, int height = 1000)
    {
        var (request, comparison) = InventedComparison.Films(canals, scale, notices, width, height);
        return ComparisonSheet.Write(new ComparisonSheetContent(label, ToothNumber.Parse("16").Value, Day, request, comparison));
    }

    /// <summary>One page; every word within the margins' half; nothing reaches down into the closing line.</summary>
    private static void AssertFits(byte[] pdf)
    {
        using var document = PdfDocument.Open(pdf);
        Assert.Equal(1, document.NumberOfPages);
        var page = document.GetPage(1);
        var words = page.GetWords().ToList();
        var closing = words.Where(word => word.Text == "Secondpass").MinBy(word => word.BoundingBox.Bottom)!;
        foreach (var word in words)
        {
            var box = word.BoundingBox;
            Assert.True(box.Left >= 17 && box.Right <= page.Width - 17 && box.Bottom >= 17 && box.Top <= page.Height - 17, $"“{word.Text}” lies outside");
            Assert.True(box.Bottom >= closing.BoundingBox.Top || Math.Abs(box.Bottom - closing.BoundingBox.Bottom) < 4, $"“{word.Text}” runs into the closing line");
        }
    }

    /// <summary>The page's text in the order it was written, spaces and line breaks as single spaces.</summary>
    private static string Text(byte[] pdf)
    {
        using var document = PdfDocument.Open(pdf);
        var page = document.GetPage(1);
        var text = new System.Text.StringBuilder();
        Letter? before = null;
        foreach (var letter in page.Letters)
        {
            var follows = before is { } last
                && Math.Abs(last.StartBaseLine.Y - letter.StartBaseLine.Y) < 0.5
                && letter.StartBaseLine.X - last.EndBaseLine.X < 0.5
                && letter.StartBaseLine.X > last.StartBaseLine.X;
            text.Append(follows || before is null ? letter.Value : " " + letter.Value);
            before = letter;
        }

        return Regex.Replace(text.ToString(), "\\s+", " ");
    }
}
