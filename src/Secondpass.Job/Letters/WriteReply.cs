using System.Globalization;
using Secondpass.Domain;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Chairside;
using Secondpass.Exchange.Letters;
using Secondpass.Job.Cases;
using Secondpass.Job.Documents;
using Secondpass.Job.Meaning;
using Secondpass.Records;

namespace Secondpass.Job.Letters;

/// <summary>Last stage of a case: the reply to the referrer and the patient's copy, drafted from what was noted, edited, made and kept.</summary>
/// <param name="store">Where it is kept.</param>
/// <param name="films">The films of what is left.</param>
/// <param name="time">The clock.</param>
public sealed class WriteReply(ClinicStore store, FilmsOfLetters films, TimeProvider time)
{
    /// <summary>Reads the films that a reply shows, which takes seconds the first time.</summary>
    /// <param name="it">The case.</param>
    /// <returns>Completed when a draft no longer waits for them.</returns>
    public Task ReadFilms(DentalCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        return it.Comparisons is [.., var kept] ? films.Of(kept) : Task.CompletedTask;
    }

    /// <summary>The newest result of a case that may show what the last one shows from another angle: both of its films are others.</summary>
    /// <param name="it">The case.</param>
    /// <returns>The result; null when there is none. Whether both were taken on one visit only the dentist knows.</returns>
    public static CaseComparison? FromAnotherAngle(DentalCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        return it.Comparisons is [.., var last]
            ? it.Comparisons.LastOrDefault(other => other.BeforeSha256 != last.BeforeSha256 && other.AfterSha256 != last.AfterSha256)
            : null;
    }

    /// <summary>Drafts a letter.</summary>
    /// <param name="id">The case.</param>
    /// <param name="kind"><see cref="LetterForm.Reply"/> or <see cref="LetterForm.Patient"/>.</param>
    /// <param name="leaveFilmsOut">Whether films and what is left are to be left out.</param>
    /// <param name="bothAngles">Whether what is left is to be read together with <see cref="FromAnotherAngle"/>.</param>
    /// <returns>The draft and what a colleague will miss in it; or a refusal: no letterhead, no case.</returns>
    public Answer<DraftedLetter> Draft(CaseId id, string? kind, bool leaveFilmsOut = false, bool bothAngles = false)
    {
        if (!store.Cases.Read(id).TryGet(out var it, out var refusal) || !Facts(it, WithFilms(kind, leaveFilmsOut), bothAngles).TryGet(out var known, out refusal))
        {
            return refusal;
        }

        var (facts, remark) = known;
        var draft = kind == LetterForm.Patient ? PatientDraft.Of(facts) : ReplyDraft.Of(facts);
        return new DraftedLetter(
            LetterForm.Of(draft, it.Version, leaveFilmsOut, bothAngles),
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

        if (!store.Cases.Read(id).TryGet(out var it, out var refusal) || !Facts(it, WithFilms(form.Kind, form.LeaveFilmsOut), form.BothAngles).TryGet(out var known, out refusal))
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

    // The patient's copy shows no films.
    private static bool WithFilms(string? kind, bool leaveFilmsOut) => kind != LetterForm.Patient && !leaveFilmsOut;

    private Answer<Known> Facts(DentalCase it, bool withFilms, bool bothAngles)
    {
        if (store.Clinic.Read().Details is not { } from)
        {
            return new Refusal("no_letterhead", "The clinic's letterhead is not entered yet.", "Enter it below; it is used on every letter.");
        }

        var (shown, remark) = withFilms ? Films(it, bothAngles) : (null, null);
        var now = time.GetLocalNow();
        return new Known(new LetterFacts(it, from, DateOnly.FromDateTime(now.DateTime), time.LocalTimeZone, shown), remark);
    }

    private (LetterFilms? Films, string? Remark) Films(DentalCase it, bool bothAngles)
    {
        if (it.Comparisons is not [.., var kept])
        {
            return (null, null);
        }

        if (!films.Of(kept).GetAwaiter().GetResult().TryGet(out var read, out var refusal))
        {
            return (null, $"{refusal.Reason} {refusal.Remedy}");
        }

        if (!bothAngles || FromAnotherAngle(it) is not { } other)
        {
            return (read, null);
        }

        return TwoViews.Read(DocumentJson.Read<CompareDocument>(kept.ComparisonDocument), DocumentJson.Read<CompareDocument>(other.ComparisonDocument)).TryGet(out var together, out refusal)
            ? (read with { BothAngles = TwoViews.Sentence(together) }, null)
            : (read, $"The two results are not read together. {refusal.Reason} {refusal.Remedy}");
    }

    private sealed record Known(LetterFacts Facts, string? Remark);
}

/// <summary>A letter, drafted.</summary>
/// <param name="Form">The draft.</param>
/// <param name="Gaps">What a colleague will look for and the case doesn't hold, one sentence each.</param>
public sealed record DraftedLetter(LetterForm Form, IReadOnlyList<string> Gaps);
