using System.Text.RegularExpressions;
using DocumentFormat.OpenXml.Packaging;
using DocumentFormat.OpenXml.Validation;
using Secondpass.Domain.Chairside;
using Secondpass.Exchange.Letters;
using UglyToad.PdfPig;
using UglyToad.PdfPig.Content;
using Letter = Secondpass.Exchange.Letters.Letter;

namespace Secondpass.Tests.Exchange.Letters;

public sealed class LetterWriterTests
{
    private static readonly LetterFacts Facts = InventedLetter.Facts(InventedLetter.Finished);
    private static readonly Letter Reply = LetterWriter.Write(new LetterContent(ReplyDraft.Of(Facts), Facts));
    private static readonly Letter Copy = LetterWriter.Write(new LetterContent(PatientDraft.Of(Facts), Facts));

    /// <summary>Every figure that the case holds, as the colleague has to find it: each from what was stored, none written by hand here.</summary>
    public static TheoryData<string> Stored
    {
        get
        {
            var minutes = VisitMinutes.Of(InventedLetter.Visit, 1);
            var finish = InventedLetter.Finish;
            return
            [
                .. InventedLetter.Canals.Where(canal => canal.FillingEndToCanalEnd is not null).Select(canal => Number(Math.Abs(canal.FillingEndToCanalEnd!.Value.Value), "0.0") + " mm"),
                .. finish.Canals.Select(canal => $"{Number(canal.WorkingLength!.Value.Value, "0.0###")} mm, {canal.ReferencePoint}"),
                .. new[] { "MB1", "DB" }.Select(canal => VisitMinutes.OfCanal(InventedLetter.Visit, 1, canal)[VisitPhase.Removal]).Select(removal => $"{Number(removal.HandsOnMinutes!.Value, "0")} ({Number(removal.ElapsedMinutes!.Value, "0")})"),
                .. finish.Canals.Select(canal => canal.MasterApicalFile!),
                .. finish.Canals.Select(canal => $"{canal.MasterCone}, {canal.Method}"),
                .. finish.Irrigants.Select(use => $"{use.Name} {Number(use.ConcentrationPercent!.Value, "0.##")} %, {Number(use.Millilitres!.Value, "0.##")} ml, {Number(use.Minutes!.Value, "0.##")} min"),
                .. new[] { VisitPhase.Access, VisitPhase.ToLength, VisitPhase.Removal, VisitPhase.Shaping }.Select(phase => $"{Number(minutes[phase].HandsOnMinutes!.Value, "0")} ({Number(minutes[phase].ElapsedMinutes!.Value, "0")})"),
                $"Removing the old filling took {Number(minutes[VisitPhase.Removal].HandsOnMinutes!.Value, "0")} min, hands-on throughout.",
                finish.SealerLot!,
                finish.RestorationUntil!.Value.ToString("d MMMM yyyy", CultureInfo.InvariantCulture),
                finish.CallOn!.Value.ToString("d MMMM yyyy", CultureInfo.InvariantCulture),
                "the fragment is 2.5 mm long; level 16.5 mm from the distobuccal cusp",
                "4 March 2026 at 09:33",
                "periapical index 4, lesion 3.5 mm",
                "0.4 mm off the middle",
                "joins MB1 4.5 mm from the end",
                "MB1: filling seen on the palatal wall at 15.0 mm",
                "upper right first molar (tooth 16)",
                "patient number 10432",
                "MB1: 12 % of the filling left (8–17 %), most of it in the apical third",
                "DB: no filling visible on this film; residue under 0.12 mm² can't be seen; 0–6 % may be left",
            ];
        }
    }

    [Theory]
    [MemberData(nameof(Stored))]
    public void The_paper_holds_every_figure_as_it_was_stored(string words) => Assert.Contains(words, PaperText(Reply.Pdf), StringComparison.Ordinal);

    [Theory]
    [MemberData(nameof(Stored))]
    public void The_word_processor_s_file_holds_the_same(string words) => Assert.Contains(words, DocumentText(Reply.Docx), StringComparison.Ordinal);

    [Theory]
    [MemberData(nameof(Stored))]
    public void The_text_that_is_kept_holds_the_same(string words) => Assert.Contains(words, OneLine(Reply.Text), StringComparison.Ordinal);

    [Fact]
    public void Holds_no_figure_that_the_case_does_not_hold()
    {
        var known = new HashSet<string>(Stored.SelectMany(row => Numbers(row.Data)).Concat(
            ["2016", "2", "1", "3", "4", "5", "16", "10432", "95", "10", "25", "30", "000000", "01234", "06", "04", "35", "90", "93", "2026", "100"]));
        var (text, draft) = (LetterWriter.Write(new LetterContent(ReplyDraft.Of(Facts), InventedLetter.Facts(InventedLetter.Finished, withFilms: false))).Text, ReplyDraft.Of(Facts));

        Assert.NotEmpty(draft.Paragraphs);
        Assert.Empty(Numbers(text).Except(known));
    }

    [Fact]
    public void Text_that_the_dentist_changed_is_what_is_made()
    {
        var draft = ReplyDraft.Of(Facts);
        var changed = draft with { Paragraphs = [new LetterParagraph(string.Empty, "First line.\nSecond line."), new LetterParagraph("Found", "Žluťoučký <b> & co.")] };
        var letter = LetterWriter.Write(new LetterContent(changed, Facts));

        foreach (var text in new[] { PaperText(letter.Pdf), DocumentText(letter.Docx), OneLine(letter.Text) })
        {
            Assert.Contains("First line. Second line.", text, StringComparison.Ordinal);
            Assert.Contains("Žluťoučký <b> & co.", text, StringComparison.Ordinal);
            Assert.DoesNotContain("Isolation", text, StringComparison.Ordinal);

            // Tables come from what was stored, whatever the text says.
            Assert.Contains("19.5 mm, mesiobuccal cusp", text, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Takes_two_pages_with_films_and_one_without()
    {
        using var with = PdfDocument.Open(Reply.Pdf);
        using var without = PdfDocument.Open(LetterWriter.Write(new LetterContent(ReplyDraft.Of(Facts), InventedLetter.Facts(InventedLetter.Finished, withFilms: false))).Pdf);
        using var copy = PdfDocument.Open(Copy.Pdf);

        Assert.Equal((2, 1, 1), (with.NumberOfPages, without.NumberOfPages, copy.NumberOfPages));
    }

    [Fact]
    public void Loses_no_word_of_a_text_that_is_long()
    {
        var words = string.Join(' ', Enumerable.Range(0, 3000).Select(index => "word" + index.ToString(CultureInfo.InvariantCulture)));
        var draft = ReplyDraft.Of(Facts);

        var letter = LetterWriter.Write(new LetterContent(draft with { Paragraphs = [.. draft.Paragraphs, new LetterParagraph("More", words)] }, Facts));

        Assert.Equal(words, string.Join(' ', Regex.Matches(PaperText(letter.Pdf), "word\\d+").Select(match => match.Value)));
    }

    [Fact]
    public void Names_tooth_and_patient_on_every_page()
    {
        using var document = PdfDocument.Open(Reply.Pdf);

        Assert.All(document.GetPages(), page =>
        {
            Assert.Contains("patient number 10432", OneLine(LettersOf(page)), StringComparison.Ordinal);
            Assert.Contains("upper right first molar (tooth 16)", OneLine(LettersOf(page)), StringComparison.Ordinal);
            Assert.Contains(FormattableString.Invariant($"page {page.Number} of 2"), OneLine(LettersOf(page)), StringComparison.Ordinal);
        });
    }

    [Fact]
    public void The_paper_has_a_title_a_language_and_tags()
    {
        using var document = PdfDocument.Open(Reply.Pdf);
        var catalog = document.Structure.Catalog.CatalogDictionary;

        Assert.Equal("Jo Invented, patient number 10432: upper right first molar (tooth 16), root-canal re-treatment", document.Information.Title);
        Assert.Equal("en", Assert.IsType<UglyToad.PdfPig.Tokens.StringToken>(catalog.Data["Lang"]).Data);
        Assert.Contains("StructTreeRoot", catalog.Data.Keys);
    }

    [Fact]
    public void The_word_processor_s_file_is_valid()
    {
        foreach (var letter in new[] { Reply, Copy })
        {
            using var stream = new MemoryStream(letter.Docx);
            using var package = WordprocessingDocument.Open(stream, false);
            Assert.Empty(new OpenXmlValidator(DocumentFormat.OpenXml.FileFormatVersions.Office2019).Validate(package).Select(error => $"{error.Path?.XPath}: {error.Description}"));
        }
    }

    [Fact]
    public void The_patient_s_copy_speaks_plainly()
    {
        var text = PaperText(Copy.Pdf);

        foreach (var words in new[]
        {
            "Dear Jo Invented,",
            "Your upper right first molar (tooth 16)",
            "we finished on 4 March 2026",
            "We took the old filling out, cleaned 3 root canals and filled them again. One of them had not been treated before. One other canal was left as it was. You were in the chair for 93 minutes.",
            "The tip of an instrument broke off in a canal. The piece is 2.5 mm long.",
            "Please have the lasting filling or crown made by Dr B. Sample, a crown that covers the cusps, no later than 1 April 2026.",
            "We will call you on 5 March 2026",
            "Chew on the other side until the tooth is restored.",
            "Call us on 01234 000000",
        })
        {
            Assert.Contains(words, text, StringComparison.Ordinal);
        }

        foreach (var jargon in new[] { "MB2", "taper", "hypochlorite", "apical", "master", "hands-on" })
        {
            Assert.DoesNotContain(jargon, text, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Says_the_same_on_a_machine_that_writes_commas()
    {
        var german = (CultureInfo)CultureInfo.InvariantCulture.Clone();
        german.NumberFormat.NumberDecimalSeparator = ",";
        german.DateTimeFormat.MonthNames = [.. german.DateTimeFormat.MonthNames.Select(name => name + "x")];
        var before = CultureInfo.CurrentCulture;
        CultureInfo.CurrentCulture = german;
        try
        {
            Assert.Equal(Reply.Text, LetterWriter.Write(new LetterContent(ReplyDraft.Of(Facts), Facts)).Text);
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    private static string Number(double value, string format) => value.ToString(format, CultureInfo.InvariantCulture);

    private static IEnumerable<string> Numbers(string text) => Regex.Matches(text, @"\d+(\.\d+)?").Select(match => match.Value.TrimEnd('.'));

    private static string PaperText(byte[] pdf)
    {
        using var document = PdfDocument.Open(pdf);
        return OneLine(string.Join(' ', document.GetPages().Select(LettersOf)));
    }

    private static string LettersOf(Page page)
    {
        var text = new System.Text.StringBuilder();
        UglyToad.PdfPig.Content.Letter? before = null;
        foreach (var letter in page.Letters)
        {
            var follows = before is { } last
                && Math.Abs(last.StartBaseLine.Y - letter.StartBaseLine.Y) < 0.5
                && letter.StartBaseLine.X - last.EndBaseLine.X < 0.5
                && letter.StartBaseLine.X > last.StartBaseLine.X;
            text.Append(follows || before is null ? letter.Value : " " + letter.Value);
            before = letter;
        }

        return text.ToString();
    }

    private static string DocumentText(byte[] docx)
    {
        using var stream = new MemoryStream(docx);
        using var package = WordprocessingDocument.Open(stream, false);
        var body = package.MainDocumentPart!.Document!.Body!;
        var drawn = string.Join(' ', body.Descendants<DocumentFormat.OpenXml.Drawing.Wordprocessing.DocProperties>().Select(picture => picture.Description));
        return OneLine(string.Join(' ', body.Descendants<DocumentFormat.OpenXml.Wordprocessing.Text>().Select(text => text.Text)) + " " + drawn);
    }

    private static string OneLine(string text) => Regex.Replace(text, "\\s+", " ");
}
