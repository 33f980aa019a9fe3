namespace Secondpass.Exchange.Letters;

/// <summary>Whom a letter is for.</summary>
public enum LetterKind
{
    /// <summary>The colleague who sent the patient.</summary>
    Reply,

    /// <summary>The patient, in plain words.</summary>
    Patient,
}

/// <summary>A letter before it is made: every text of it may be changed.</summary>
/// <param name="Kind">Whom it is for.</param>
/// <param name="Recipient">Name and address, line by line.</param>
/// <param name="Subject">What it is about, tooth and patient.</param>
/// <param name="Salutation">How it begins.</param>
/// <param name="Paragraphs">Its text, paragraph by paragraph.</param>
/// <param name="Closing">How it ends: greeting and who signs, line by line.</param>
public sealed record LetterDraft(
    LetterKind Kind,
    IReadOnlyList<string> Recipient,
    string Subject,
    string Salutation,
    IReadOnlyList<LetterParagraph> Paragraphs,
    IReadOnlyList<string> Closing);

/// <summary>A paragraph of a letter.</summary>
/// <param name="Topic">What it is about, in a word or two; empty for the opening.</param>
/// <param name="Text">Its text; lines are kept.</param>
public sealed record LetterParagraph(string Topic, string Text);
