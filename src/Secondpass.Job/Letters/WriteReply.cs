using System.Globalization;
using System.Text;
using Secondpass.Domain;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Chairside;
using Secondpass.Exchange.Letters;
using Secondpass.Job.Cases;
using Secondpass.Job.Documents;
using Secondpass.Records;

namespace Secondpass.Job.Letters;

/// <summary>Last stage of a case: the reply to the referrer and the patient's copy, drafted from what was noted, edited, made and kept.</summary>
/// <param name="store">Where it is kept.</param>
/// <param name="shelf">The films.</param>
/// <param name="time">The clock.</param>
public sealed class WriteReply(ClinicStore store, FilmShelf shelf, TimeProvider time)
{
    private readonly Lock changing = new();
    private (CaseComparison Kept, LetterFilms Films)? last;

    /// <summary>Drafts a letter.</summary>
    /// <param name="id">The case.</param>
    /// <param name="kind"><see cref="LetterForm.Reply"/> or <see cref="LetterForm.Patient"/>.</param>
    /// <returns>The draft and what a colleague will miss in it; or a refusal: no letterhead, no case.</returns>
    public Answer<DraftedLetter> Draft(CaseId id, string? kind)
    {
        if (!store.Cases.Read(id).TryGet(out var it, out var refusal) || !Facts(it).TryGet(out var known, out refusal))
        {
            return refusal;
        }

        var (facts, remark) = known;
        var draft = kind == LetterForm.Patient ? PatientDraft.Of(facts) : ReplyDraft.Of(facts);
        return new DraftedLetter(
            LetterForm.Of(draft, it.Version),
            kind == LetterForm.Patient ? [] : [.. new[] { remark }.OfType<string>(), .. LetterGaps.Of(facts)]);
    }

    /// <summary>Makes a letter as PDF and for a word processor, keeps both and notes that it was made.</summary>
    /// <returns>The case; or a refusal: no letterhead, no text, changed meanwhile, disk full.</returns>
    public Answer<DentalCase> Make(CaseId id, LetterForm form, Writer by)
    {
        ArgumentNullException.ThrowIfNull(form);
        ArgumentNullException.ThrowIfNull(by);
        var draft = form.Read();
        if (draft.Paragraphs.Count == 0 || draft.Subject.Length == 0)
        {
            return new Refusal("empty_letter", "The letter has no subject or no text.", "Write both, or open the page anew for a fresh draft.");
        }

        if (!store.Cases.Read(id).TryGet(out var it, out var refusal) || !Facts(it).TryGet(out var known, out refusal))
        {
            return refusal;
        }

        // What was noted at the chair since doesn't matter to the store; it does to the figures in this text.
        if (it.Version != form.Version)
        {
            return new Refusal(
                "case_changed",
                "Something was noted in this case since the letter was drafted. No letter was made.",
                "Look at what was noted, change the text where it has to be, and make the letter again.");
        }

        var letter = LetterWriter.Write(new LetterContent(draft, known.Facts));
        return store.Cases.KeepFile(letter.Pdf).TryGet(out var pdf, out refusal) && store.Cases.KeepFile(letter.Docx).TryGet(out var docx, out refusal)
            ? store.Cases.Append(id, form.Version, by.Author, [new LetterMade(form.Kind == LetterForm.Patient ? LetterForm.Patient : LetterForm.Reply, letter.Text, pdf, docx)])
            : refusal;
    }

    /// <summary>A letter that was made.</summary>
    /// <param name="id">The case.</param>
    /// <param name="number">Its number in the case, from 1.</param>
    /// <param name="asDocx">Whether for a word processor rather than as PDF.</param>
    /// <returns>The file; or a refusal: no such letter, gone, damaged.</returns>
    public Answer<CaseFile> File(string id, int number, bool asDocx)
    {
        if (!store.Cases.Read(new CaseId(id)).TryGet(out var it, out var refusal))
        {
            return refusal;
        }

        if (number < 1 || number > it.Letters.Count || (asDocx ? it.Letters[number - 1].DocxSha256 : it.Letters[number - 1].PdfSha256) is not { } sha256)
        {
            return new Refusal("letter_not_here", string.Create(CultureInfo.InvariantCulture, $"This case has no letter {number}."), "Open it from the case's page “Letter”.");
        }

        var name = string.Create(CultureInfo.InvariantCulture, $"tooth-{it.Tooth}-{it.Letters[number - 1].Kind}-{number}.{(asDocx ? "docx" : "pdf")}");
        var type = asDocx ? "application/vnd.openxmlformats-officedocument.wordprocessingml.document" : "application/pdf";
        return store.Cases.ReadFile(sha256).TryGet(out var bytes, out refusal) ? new CaseFile(name, type, bytes) : refusal;
    }

    private Answer<Known> Facts(DentalCase it)
    {
        if (store.Clinic.Read().Details is not { } from)
        {
            return new Refusal("no_letterhead", "The clinic's letterhead is not entered yet.", "Enter it below; it is used on every letter.");
        }

        var (films, remark) = Films(it);
        var now = time.GetLocalNow();
        return new Known(new LetterFacts(it, from, DateOnly.FromDateTime(now.DateTime), time.LocalTimeZone, films), remark);
    }

    /// <summary>The films of the last comparison, read again for their pictures; only where they give exactly the figures that were kept.</summary>
    private (LetterFilms? Films, string? Remark) Films(DentalCase it)
    {
        if (it.Comparisons is not [.., var kept])
        {
            return (null, null);
        }

        lock (changing)
        {
            if (last is { } before && before.Kept == kept)
            {
                return (before.Films, null);
            }
        }

        if (!shelf.Find(kept.BeforeSha256).TryGet(out var filmBefore, out var refusal)
            || !shelf.Find(kept.AfterSha256).TryGet(out var filmAfter, out refusal)
            || !CaseReader.Read(Encoding.UTF8.GetBytes(kept.CaseDocument)).TryGet(out var marked, out refusal)
            || !CompareFilms.Compare(filmBefore, filmAfter, marked).TryGet(out var compared, out refusal))
        {
            return (null, $"The films of what is left can't be shown: {refusal.Reason}");
        }

        if (Encoding.UTF8.GetString(DocumentJson.Write(compared.Document)).TrimEnd() != kept.ComparisonDocument.TrimEnd())
        {
            return (null, "This version of the program reads the films otherwise than when their result was kept; the letter leaves both out. Enclose the record sheet that was kept.");
        }

        var films = new LetterFilms(compared.Request, compared.Comparison);
        lock (changing)
        {
            last = (kept, films);
        }

        return (films, null);
    }

    private sealed record Known(LetterFacts Facts, string? Remark);
}

/// <summary>A letter, drafted.</summary>
/// <param name="Form">The draft.</param>
/// <param name="Gaps">What a colleague will look for and the case doesn't hold, one sentence each.</param>
public sealed record DraftedLetter(LetterForm Form, IReadOnlyList<string> Gaps);
