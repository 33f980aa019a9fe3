using Secondpass.Exchange.Pictures;

namespace Secondpass.Exchange.Letters;

/// <summary>One thing that stands on a letter between its subject and its end, the same on paper and for a word processor.</summary>
internal abstract record LetterBlock
{
    /// <summary>Text under a topic.</summary>
    public sealed record Text(string Topic, IReadOnlyList<string> Lines) : LetterBlock;

    /// <summary>A table.</summary>
    public sealed record Rows(LetterTable Table) : LetterBlock;

    /// <summary>The letter's text in order: the opening, the minutes, what was found and done, the canals, the rest.</summary>
    /// <param name="content">The letter.</param>
    public static IReadOnlyList<LetterBlock> Of(LetterContent content)
    {
        var blocks = content.Draft.Paragraphs.Select(paragraph => (LetterBlock)new Text(paragraph.Topic.Trim(), LinesOf(paragraph.Text))).ToList();
        if (content.Draft.Kind == LetterKind.Reply)
        {
            Insert(LetterTables.Minutes(content.Facts), after: string.Empty);
            Insert(LetterTables.Canals(content.Facts), after: "Done");
        }

        return blocks;

        // Behind the paragraph of that topic; at the end where the dentist took it out.
        void Insert(LetterTable? table, string after)
        {
            if (table is not null)
            {
                var place = blocks.FindIndex(block => block is Text text && text.Topic == after);
                blocks.Insert(place < 0 ? blocks.Count : place + 1, new Rows(table));
            }
        }
    }

    /// <summary>Lines of a text, without blank ones at its ends.</summary>
    public static IReadOnlyList<string> LinesOf(string text) => [.. text.Trim().Split('\n').Select(TextLayout.Plain)];
}
