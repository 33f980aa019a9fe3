using System.Buffers;
using System.Globalization;
using System.Text;
using System.Text.Json;
using System.Text.Json.Serialization.Metadata;
using System.Text.Unicode;
using Secondpass.Domain;

namespace Secondpass.Job.Documents;

/// <summary>A JSON text taken apart into values that remember where they stand, so that an error can name line and column.</summary>
internal sealed class PlacedJson
{
    private static readonly SearchValues<byte> LineEnds = SearchValues.Create("\r\n"u8);

    private readonly byte[] text;

    private PlacedJson(byte[] text) => this.text = text;

    /// <summary>The outermost value.</summary>
    public PlacedValue Root { get; private set; } = null!;

    /// <summary>Takes a text apart.</summary>
    /// <param name="bytes">UTF-8, with or without a byte order mark.</param>
    /// <returns>The values, or why it is not JSON, with line and column.</returns>
    public static Answer<PlacedJson> Read(ReadOnlyMemory<byte> bytes)
    {
        var span = bytes.Span;
        if (span.StartsWith((ReadOnlySpan<byte>)[0xEF, 0xBB, 0xBF]))
        {
            span = span[3..];
        }

        if (span.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xFE]) || span.StartsWith((ReadOnlySpan<byte>)[0xFE, 0xFF]))
        {
            return new Refusal("not_utf8", "The text is stored as UTF-16.", "Store it as UTF-8: editors offer it when saving.");
        }

        if (!Utf8.IsValid(span))
        {
            return new Refusal("not_utf8", "This is not a text in UTF-8.", "Give a JSON text stored as UTF-8.");
        }

        var json = new PlacedJson(span.ToArray());
        var reader = new Utf8JsonReader(json.text);
        try
        {
            reader.Read();
            json.Root = ReadValue(ref reader, (int)reader.TokenStartIndex);

            // One more step finds what stands behind the end of the outermost value.
            reader.Read();
        }
        catch (JsonException)
        {
            return json.NotJson((int)reader.BytesConsumed);
        }

        return json;
    }

    /// <summary>Where a value stands, as a person counts: "Line 3, column 12".</summary>
    /// <param name="offset">Byte offset of the value.</param>
    public string Where(int offset)
    {
        var before = text.AsSpan(0, Math.Min(offset, text.Length));
        var line = before.Count((byte)'\n') + 1;
        var column = Encoding.UTF8.GetCharCount(before[(before.LastIndexOf((byte)'\n') + 1)..]) + 1;
        return string.Create(CultureInfo.InvariantCulture, $"Line {line}, column {column}");
    }

    /// <summary>Makes a document of a text whose shape has been checked.</summary>
    public T Deserialize<T>(JsonTypeInfo<T> type)
        where T : notnull =>
        JsonSerializer.Deserialize(text, type) ?? throw new InvalidOperationException("A text whose shape was checked gave no document.");

    private Refusal NotJson(int consumed)
    {
        var offset = consumed;
        while (offset < text.Length && text[offset] is (byte)' ' or (byte)'\t' or (byte)'\r' or (byte)'\n')
        {
            offset++;
        }

        const string Remedy = "Look just before it for a missing comma, quote or bracket; JSON has no comments and no comma behind the last entry.";
        if (text.AsSpan().Trim(" \t\r\n"u8).IsEmpty)
        {
            return new Refusal("not_json", "The text is empty.", "Give a JSON document.");
        }

        // The reader stops before a comma that nothing follows.
        if (text.AsSpan(offset).Trim(", \t\r\n"u8).IsEmpty)
        {
            offset = text.Length;
            return new Refusal("not_json", Where(offset) + ": the text ends before its outermost bracket is closed.", Remedy);
        }

        var rest = text.AsSpan(offset);
        var lineEnd = rest.IndexOfAny(LineEnds);
        var excerpt = Encoding.UTF8.GetString(lineEnd < 0 ? rest : rest[..lineEnd]);
        return new Refusal("not_json", $"{Where(offset)}: the text stops being JSON at {Quoted.Text(excerpt, 20)}.", Remedy);
    }

    private static PlacedValue ReadValue(ref Utf8JsonReader reader, int offset)
    {
        switch (reader.TokenType)
        {
            case JsonTokenType.StartObject:
                var members = new List<PlacedMember>();
                while (reader.Read() && reader.TokenType != JsonTokenType.EndObject)
                {
                    var name = reader.GetString()!;
                    var nameOffset = (int)reader.TokenStartIndex;
                    reader.Read();
                    members.Add(new PlacedMember(name, nameOffset, ReadValue(ref reader, (int)reader.TokenStartIndex)));
                }

                return new PlacedValue(JsonValueKind.Object, offset) { Members = members };
            case JsonTokenType.StartArray:
                var items = new List<PlacedValue>();
                while (reader.Read() && reader.TokenType != JsonTokenType.EndArray)
                {
                    items.Add(ReadValue(ref reader, (int)reader.TokenStartIndex));
                }

                return new PlacedValue(JsonValueKind.Array, offset) { Items = items };
            case JsonTokenType.String:
                return new PlacedValue(JsonValueKind.String, offset) { Text = reader.GetString()! };
            case JsonTokenType.Number:
                return new PlacedValue(JsonValueKind.Number, offset) { Text = Encoding.UTF8.GetString(reader.ValueSpan), Number = reader.GetDouble() };
            case JsonTokenType.True:
                return new PlacedValue(JsonValueKind.True, offset) { Text = "true" };
            case JsonTokenType.False:
                return new PlacedValue(JsonValueKind.False, offset) { Text = "false" };
            default:
                return new PlacedValue(JsonValueKind.Null, offset) { Text = "null" };
        }
    }
}

/// <summary>One value of a JSON text.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="Offset">Where it begins, in bytes.</param>
internal sealed record PlacedValue(JsonValueKind Kind, int Offset)
{
    /// <summary>The text of a string, or a number as written.</summary>
    public string Text { get; init; } = string.Empty;

    /// <summary>The value of a number; infinite where it is too large.</summary>
    public double Number { get; init; }

    /// <summary>Members of an object, in order.</summary>
    public IReadOnlyList<PlacedMember> Members { get; init; } = [];

    /// <summary>Entries of an array, in order.</summary>
    public IReadOnlyList<PlacedValue> Items { get; init; } = [];

    /// <summary>The value as a message quotes it, cut where it is long.</summary>
    public string InWords => Kind switch
    {
        JsonValueKind.Object => "an object {…}",
        JsonValueKind.Array => "a list […]",
        JsonValueKind.String => "the text " + Quoted.Text(Text, 40),
        JsonValueKind.Number => "the number " + Quoted.Cut(Text, 40),
        _ => Text,
    };
}

/// <summary>One member of an object.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Offset">Where the name stands, in bytes.</param>
/// <param name="Value">Its value.</param>
internal readonly record struct PlacedMember(string Name, int Offset, PlacedValue Value);
