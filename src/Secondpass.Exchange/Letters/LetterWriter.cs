namespace Secondpass.Exchange.Letters;

/// <summary>Makes a letter from its draft and the facts behind its tables and pictures.</summary>
public static class LetterWriter
{
    /// <summary>Makes the letter: as PDF, for a word processor, and as text.</summary>
    /// <param name="content">The draft and the facts.</param>
    public static Letter Write(LetterContent content)
    {
        ArgumentNullException.ThrowIfNull(content);
        return new Letter(LetterPaper.Write(content), LetterDocument.Write(content), Text(content));
    }

    private static string Text(LetterContent content)
    {
        var draft = content.Draft;
        var blocks = LetterBlock.Of(content).Select(block => block switch
        {
            LetterBlock.Text text => (text.Topic.Length > 0 ? text.Topic + ": " : string.Empty) + string.Join('\n', text.Lines),
            LetterBlock.Rows rows => string.Join('\n', rows.Table.Rows.Select(row => string.Join(" | ", row)).Prepend(rows.Table.Caption)),
            _ => string.Empty,
        });
        string[] parts =
        [
            string.Join('\n', draft.Recipient),
            CaseInWords.Date(content.Facts.Date),
            draft.Subject,
            draft.Salutation,
            .. blocks,
            string.Join('\n', draft.Closing),
        ];
        return string.Join("\n\n", parts.Where(part => part.Length > 0));
    }
}
