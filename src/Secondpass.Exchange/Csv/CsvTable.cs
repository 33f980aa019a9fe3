using System.Globalization;
using System.Text;

namespace Secondpass.Exchange.Csv;

/// <summary>Writes tables as CSV (RFC 4180): UTF-8 with its mark, commas, lines closed by CR LF.</summary>
/// <remarks>
/// Numbers are written with a point whatever the machine's language. A text that a spreadsheet would take for a formula gets an
/// apostrophe before it: a name somebody typed must not compute anything on somebody else's machine.
/// </remarks>
public static class CsvTable
{
    /// <summary>A table.</summary>
    /// <param name="header">One name a column, with the unit where there is one.</param>
    /// <param name="rows">Rows of as many cells.</param>
    public static byte[] Write(IReadOnlyList<string> header, IEnumerable<IReadOnlyList<CsvCell>> rows)
    {
        ArgumentNullException.ThrowIfNull(header);
        ArgumentNullException.ThrowIfNull(rows);
        var text = new StringBuilder();
        Line(header.Select(name => Quoted(Harmless(name))));
        foreach (var row in rows)
        {
            if (row.Count != header.Count)
            {
                throw new ArgumentException("A row has one cell for each column.", nameof(rows));
            }

            Line(row.Select(Written));
        }

        return [.. Encoding.UTF8.GetPreamble(), .. Encoding.UTF8.GetBytes(text.ToString())];

        void Line(IEnumerable<string> cells) => text.AppendJoin(',', cells).Append("\r\n");
    }

    private static string Written(CsvCell cell) => cell.Number is { } number ? number.ToString("R", CultureInfo.InvariantCulture) : Quoted(Harmless(cell.Text ?? string.Empty));

    private static string Harmless(string text) => text.TrimStart() is ['=' or '+' or '-' or '@' or '＝' or '＋' or '－' or '＠', ..] || text is ['\t' or '\r' or '\n', ..] ? "'" + text : text;

    private static string Quoted(string text) => text.AsSpan().IndexOfAny("\",\r\n") < 0 ? text : $"\"{text.Replace("\"", "\"\"", StringComparison.Ordinal)}\"";
}

/// <summary>One cell of a table: a text, a number, or nothing.</summary>
/// <param name="Text">The text.</param>
/// <param name="Number">The number, where it is one.</param>
public readonly record struct CsvCell(string? Text, double? Number)
{
    /// <summary>A text; null for an empty cell.</summary>
    public static implicit operator CsvCell(string? text) => new(text, null);

    /// <summary>A number; null for an empty cell.</summary>
    public static implicit operator CsvCell(double? number) => new(null, number);
}
