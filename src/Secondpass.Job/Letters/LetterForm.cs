using Secondpass.Exchange.Letters;

namespace Secondpass.Job.Letters;

/// <summary>A letter as it is being edited.</summary>
public sealed class LetterForm
{
    /// <summary>The reply to the referrer.</summary>
    public const string Reply = "reply";

    /// <summary>The patient's copy.</summary>
    public const string Patient = "patient";

    /// <summary><see cref="Reply"/> or <see cref="Patient"/>.</summary>
    public string Kind { get; set; } = Reply;

    /// <summary>The version of the case that the letter was drafted from.</summary>
    public long Version { get; set; }

    /// <summary>Whether films and what is left are left out.</summary>
    public bool LeaveFilmsOut { get; set; }

    /// <summary>Whether what is left is read together with films from another angle.</summary>
    public bool BothAngles { get; set; }

    /// <summary>Name and address, line by line.</summary>
    public string? Recipient { get; set; }

    /// <summary>What it is about.</summary>
    public string? Subject { get; set; }

    /// <summary>How it begins.</summary>
    public string? Salutation { get; set; }

    /// <summary>Its text.</summary>
    public List<ParagraphLine> Paragraphs { get; set; } = [];

    /// <summary>How it ends, line by line.</summary>
    public string? Closing { get; set; }

    internal static LetterForm Of(LetterDraft draft, long version, bool leaveFilmsOut, bool bothAngles) => new()
    {
        Kind = draft.Kind == LetterKind.Patient ? Patient : Reply,
        Version = version,
        LeaveFilmsOut = leaveFilmsOut,
        BothAngles = bothAngles,
        Recipient = string.Join('\n', draft.Recipient),
        Subject = draft.Subject,
        Salutation = draft.Salutation,
        Paragraphs = [.. draft.Paragraphs.Select(paragraph => new ParagraphLine { Topic = paragraph.Topic, Text = paragraph.Text }), new ParagraphLine()],
        Closing = string.Join('\n', draft.Closing),
    };

    internal LetterDraft Read() => new(
        Kind == Patient ? LetterKind.Patient : LetterKind.Reply,
        Lines(Recipient),
        (Subject ?? string.Empty).Trim(),
        (Salutation ?? string.Empty).Trim(),
        [
            .. Paragraphs
                .Where(paragraph => !string.IsNullOrWhiteSpace(paragraph.Text))
                .Select(paragraph => new LetterParagraph((paragraph.Topic ?? string.Empty).Trim(), paragraph.Text!.ReplaceLineEndings("\n").Trim())),
        ],
        Lines(Closing));

    private static string[] Lines(string? text) => (text ?? string.Empty).Split(['\n', '\r'], StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);
}

/// <summary>A paragraph as it is being edited.</summary>
public sealed class ParagraphLine
{
    /// <summary>What it is about; empty for the opening.</summary>
    public string? Topic { get; set; }

    /// <summary>Its text; empty: it is left out.</summary>
    public string? Text { get; set; }
}
