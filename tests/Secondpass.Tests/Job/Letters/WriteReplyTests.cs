using System.Text;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Chairside;
using Secondpass.Job;
using Secondpass.Job.Documents;
using Secondpass.Job.Letters;
using Secondpass.Tests.Exchange.Letters;
using Secondpass.Tests.Job.Chairside;
using UglyToad.PdfPig;

namespace Secondpass.Tests.Job.Letters;

public sealed class WriteReplyTests : IDisposable
{
    private readonly ChairsideStore given = new();
    private readonly WriteReply reply;
    private readonly Letterhead letterhead;

    public WriteReplyTests()
    {
        reply = new WriteReply(given.Store, Films(), given.Clock);
        letterhead = new Letterhead(given.Store);
    }

    public void Dispose() => given.Dispose();

    [Fact]
    public void Without_a_letterhead_there_is_no_letter_and_entering_it_once_is_enough()
    {
        Assert.Equal("The clinic's letterhead is not entered yet.", reply.Draft(given.Id, LetterForm.Reply).Refusal.Reason);

        EnterLetterhead();

        Assert.EndsWith("Dr A. Example\nregistration 000000", reply.Draft(given.Id, LetterForm.Reply).Value.Form.Closing, StringComparison.Ordinal);
        Assert.Equal("1 Mill Lane\nInventown IT1 2AB", letterhead.Form().Address);
    }

    [Theory]
    [InlineData(null, "Dr A. Example")]
    [InlineData("Practice", " ")]
    public void A_letterhead_without_clinic_or_signer_is_refused(string? name, string dentist)
    {
        var refusal = letterhead.Keep(new LetterheadForm { Name = name, Dentist = dentist }, given.By).Refusal;

        Assert.Equal(("A letterhead has the clinic's name and the name of who signs.", "Enter both; the rest may stay empty."), (refusal.Reason, refusal.Remedy));
    }

    [Fact]
    public void The_letter_holds_the_minutes_of_the_visit_and_the_words_of_the_films_and_is_kept()
    {
        EnterLetterhead();
        given.Note([.. InventedLetter.Visit, new FinishNoted(1, InventedLetter.Finish), Compared(DemoFilm.Incisor)]);
        var draft = reply.Draft(given.Id, LetterForm.Reply).Value;
        draft.Form.Paragraphs[1].Text += " Thank you for the good film.";

        var made = reply.Make(given.Id, draft.Form, given.By).Value;

        var letter = Assert.Single(made.Letters);
        Assert.Equal(LetterForm.Reply, letter.Kind);
        var pdf = reply.File(given.Id.Value, 1, asDocx: false).Value;
        Assert.Equal(("tooth-16-reply-1.pdf", "application/pdf"), (pdf.Name, pdf.MediaType));
        var text = Text(pdf.Bytes.ToArray());
        var removal = VisitMinutes.Of(made.Chairside, 1)[VisitPhase.Removal];
        Assert.Contains(FormattableString.Invariant($"Removing the old filling took {removal.HandsOnMinutes:0} min, hands-on throughout."), text, StringComparison.Ordinal);
        Assert.Contains("C: no filling visible on this film; residue under", text, StringComparison.Ordinal);
        Assert.Contains("Thank you for the good film.", text, StringComparison.Ordinal);
        Assert.Contains("The films before and after, and what they show to be left", text, StringComparison.Ordinal);
        Assert.StartsWith("PK", Encoding.ASCII.GetString(reply.File(given.Id.Value, 1, asDocx: true).Value.Bytes.Span[..2]), StringComparison.Ordinal);
        Assert.Contains("Thank you for the good film.", letter.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Films_that_no_longer_give_the_figures_that_were_kept_are_left_out_and_the_dentist_is_told()
    {
        EnterLetterhead();
        var kept = Compared(DemoFilm.Incisor);
        given.Note(kept with { Result = Changed(kept.Result, document => document with { Canals = [.. document.Canals.Select(canal => canal with { MassPercent = 99 })] }) });

        var draft = reply.Draft(given.Id, LetterForm.Reply).Value;

        Assert.Equal("This version of the program reads the films otherwise than when their result was kept; the letter leaves both out. Enclose the record sheet that was kept.", draft.Gaps[0]);
        Assert.DoesNotContain(draft.Form.Paragraphs, paragraph => paragraph.Topic == "Left");
    }

    [Fact]
    public void Says_what_films_from_another_angle_show_together_once_the_dentist_says_that_they_are_of_one_visit()
    {
        EnterLetterhead();
        var last = Compared(DemoFilm.Incisor);
        given.Note(new ComparisonAttached(OfOtherFilms(last.Result)), last);

        Assert.DoesNotContain("another angle", Left(reply.Draft(given.Id, LetterForm.Reply).Value), StringComparison.Ordinal);

        var both = reply.Draft(given.Id, LetterForm.Reply, bothAngles: true).Value;
        Assert.Contains("Read together with films of the same visit from another angle, by mass: C none visible (0–", Left(both), StringComparison.Ordinal);
        Assert.Contains("another angle, by mass", Assert.Single(reply.Make(given.Id, both.Form, given.By).Value.Letters).Text, StringComparison.Ordinal);

        static string Left(DraftedLetter drafted) => drafted.Form.Paragraphs.Single(paragraph => paragraph.Topic == "Left").Text!;
    }

    [Fact]
    public void Says_why_results_with_other_canal_names_are_not_read_together()
    {
        EnterLetterhead();
        var last = Compared(DemoFilm.Incisor);
        var renamed = Changed(OfOtherFilms(last.Result), document => document with { Canals = [.. document.Canals.Select(canal => canal with { Name = "P" })] });
        given.Note(new ComparisonAttached(renamed), last);

        Assert.StartsWith(
            "The two results are not read together. No canal has the same name on both pairs: C on the first, P on the second.",
            reply.Draft(given.Id, LetterForm.Reply, bothAngles: true).Value.Gaps[0],
            StringComparison.Ordinal);
    }

    [Fact]
    public void Another_result_of_the_same_film_before_is_none_from_another_angle()
    {
        var last = Compared(DemoFilm.Incisor);
        given.Note(new ComparisonAttached(OfOtherFilms(last.Result) with { BeforeSha256 = last.Result.BeforeSha256 }), last);

        Assert.Null(WriteReply.FromAnotherAngle(given.Case));
    }

    [Fact]
    public void A_letter_drafted_before_something_else_was_noted_is_not_made()
    {
        EnterLetterhead();
        var draft = reply.Draft(given.Id, LetterForm.Patient).Value;
        given.Note(new FinishNoted(1, InventedLetter.Finish));

        var refusal = reply.Make(given.Id, draft.Form, given.By).Refusal;

        Assert.Equal("Something was noted in this case since the letter was drafted. No letter was made.", refusal.Reason);
        Assert.Empty(given.Case.Letters);
    }

    [Fact]
    public void A_letter_without_text_is_not_made()
    {
        EnterLetterhead();
        var draft = reply.Draft(given.Id, LetterForm.Patient).Value;
        draft.Form.Paragraphs.Clear();

        Assert.Equal("The letter has no subject or no text.", reply.Make(given.Id, draft.Form, given.By).Refusal.Reason);
    }

    [Fact]
    public void A_letter_that_was_not_made_is_not_there() =>
        Assert.Equal("This case has no letter 1.", reply.File(given.Id.Value, 1, asDocx: false).Refusal.Reason);

    [Fact]
    public async Task Shows_the_films_whatever_the_tray_reached_when_their_result_was_kept()
    {
        var kept = Changed(Compared(DemoFilm.Incisor).Result, document => document with { Canals = [.. document.Canals.Select(canal => canal with { NextPass = [] })] });

        Assert.True((await Films().Of(kept)).IsGiven);
    }

    [Fact]
    public async Task A_page_that_comes_anew_finds_that_its_films_are_gone_and_does_not_wait_for_them_again()
    {
        var films = Films();
        var gone = new CaseComparison(new string('0', 64), new string('1', 64), "{}", "{}", new string('0', 64));

        Assert.False((await films.Of(gone)).IsGiven);

        Assert.True(films.Of(gone).IsCompleted);
    }

    private static CaseComparison OfOtherFilms(CaseComparison kept) => kept with { BeforeSha256 = new string('2', 64), AfterSha256 = new string('3', 64) };

    private FilmsOfLetters Films() => new(new FilmShelf(given.Store), given.Clock);

    private static CaseComparison Changed(CaseComparison kept, Func<CompareDocument, CompareDocument> change) => kept with
    {
        ComparisonDocument = Encoding.UTF8.GetString(DocumentJson.Write(change(DocumentJson.Read<CompareDocument>(kept.ComparisonDocument)))),
    };

    private void EnterLetterhead() => Assert.True(letterhead.Keep(
        new LetterheadForm { Name = "Practice at the Invented Mill", Address = "1 Mill Lane\r\nInventown IT1 2AB\r\n", Dentist = "Dr A. Example", Registration = "registration 000000", Phone = "01234 000000", Version = letterhead.Form().Version },
        given.By).IsGiven);

    private ComparisonAttached Compared(string films)
    {
        var shelf = new FilmShelf(given.Store);
        var (before, after) = (given.Store.KeepFilm(DemoFilm.Before(films)).Value, given.Store.KeepFilm(DemoFilm.After(films)).Value);
        var compared = CompareFilms.Compare(shelf.Find(before).Value, shelf.Find(after).Value, DemoFilm.Case(films)).Value;
        return new ComparisonAttached(new CaseComparison(before, after, DemoFilm.CaseText(films), Encoding.UTF8.GetString(DocumentJson.Write(compared.Document)).TrimEnd(), before));
    }

    private static string Text(byte[] pdf)
    {
        using var document = PdfDocument.Open(pdf);
        return string.Join(' ', document.GetPages().SelectMany(page => page.GetWords()).Select(word => word.Text));
    }
}
