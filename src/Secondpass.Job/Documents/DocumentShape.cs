using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using System.Globalization;
using System.Reflection;
using System.Text.Json;
using System.Text.Json.Serialization.Metadata;
using Secondpass.Domain;

namespace Secondpass.Job.Documents;

/// <summary>Checks a JSON text against the records that define a document: members, kinds of values, numbers of entries, words.</summary>
/// <remarks>The same records and attributes give the JSON schemas, so that what the schema allows and what is read cannot drift apart.</remarks>
internal sealed class DocumentShape
{
    private readonly PlacedJson json;
    private readonly Dictionary<string, int> places = [];

    private DocumentShape(PlacedJson json) => this.json = json;

    /// <summary>Checks a text.</summary>
    /// <param name="json">The text, taken apart.</param>
    /// <param name="document">The record it has to be.</param>
    /// <returns>The checked text, which knows where each value stands; or the first thing wrong with it.</returns>
    public static Answer<DocumentShape> Check(PlacedJson json, Type document)
    {
        var shape = new DocumentShape(json);
        return shape.Value(json.Root, DocumentJson.Options.GetTypeInfo(document), property: null, path: string.Empty) is { } wrong
            ? wrong
            : shape;
    }

    /// <summary>A refusal that names the place of a value.</summary>
    /// <param name="path">The value, such as <c>canals[0].pin</c>.</param>
    /// <param name="refusal">What is wrong with it.</param>
    public Refusal At(string path, Refusal refusal) =>
        refusal with { Reason = $"{json.Where(places[path])}, {path}: {refusal.Reason}" };

    private Refusal? Value(PlacedValue value, JsonTypeInfo type, JsonPropertyInfo? property, string path)
    {
        places[path] = value.Offset;
        if (value.Kind == JsonValueKind.Null && property is { IsSetNullable: true })
        {
            return null;
        }

        return type.Kind switch
        {
            JsonTypeInfoKind.Object => Members(value, type, path),
            JsonTypeInfoKind.Enumerable => Entries(value, type, property, path),
            _ => Single(value, type, property, path),
        };
    }

    private Refusal? Members(PlacedValue value, JsonTypeInfo type, string path)
    {
        if (value.Kind != JsonValueKind.Object)
        {
            return Wrong(value.Offset, path, "wrong_kind", $"{value.InWords} stands where an object {{…}} is expected.", Means(type.Type));
        }

        var known = type.Properties.ToDictionary(property => property.Name);
        var seen = new HashSet<string>();
        foreach (var member in value.Members)
        {
            if (!known.ContainsKey(member.Name))
            {
                var nearest = NearestWord.Of(member.Name, known.Keys.Where(name => value.Members.All(other => other.Name != name)));
                var list = $"Known here: {string.Join(", ", known.Keys)}.";
                return Wrong(
                    member.Offset,
                    path,
                    "unknown_member",
                    $"{Quoted.Text(member.Name, 40)} is not known here.",
                    nearest is null ? list : $"Did you mean “{nearest}”? {list}");
            }

            if (!seen.Add(member.Name))
            {
                return Wrong(member.Offset, path, "member_twice", $"“{member.Name}” stands here twice.", "Keep the one that is meant.");
            }
        }

        foreach (var property in type.Properties)
        {
            if (!property.IsSetNullable && !seen.Contains(property.Name))
            {
                return Wrong(value.Offset, path, "missing_member", $"“{property.Name}” is missing.", $"Add it: {Means(property)}");
            }
        }

        return FirstOf(value.Members, member => Value(
            member.Value,
            DocumentJson.Options.GetTypeInfo(known[member.Name].PropertyType),
            known[member.Name],
            path.Length == 0 ? member.Name : $"{path}.{member.Name}"));
    }

    private Refusal? Entries(PlacedValue value, JsonTypeInfo type, JsonPropertyInfo? property, string path)
    {
        if (value.Kind != JsonValueKind.Array)
        {
            return Wrong(value.Offset, path, "wrong_kind", $"{value.InWords} stands where a list […] is expected.", Means(property));
        }

        var isRow = type.ElementType == typeof(double);
        if (isRow && Attribute<ColumnsAttribute>(property) is { } columns && value.Items.Count != columns.Names.Count)
        {
            return Wrong(
                value.Offset,
                path,
                "wrong_count",
                $"{Count(value.Items.Count, "number")} here; {columns.Names.Count.ToString(CultureInfo.InvariantCulture)} are expected: [{string.Join(", ", columns.Names)}].",
                Means(property));
        }

        if (!isRow && Attribute<MinLengthAttribute>(property) is { } least && value.Items.Count < least.Length)
        {
            return Wrong(
                value.Offset,
                path,
                "wrong_count",
                $"{Count(value.Items.Count, "entry")} here; at least {least.Length.ToString(CultureInfo.InvariantCulture)} expected.",
                Means(property));
        }

        var element = DocumentJson.Options.GetTypeInfo(type.ElementType!);
        for (var i = 0; i < value.Items.Count; i++)
        {
            var item = value.Items[i];
            var itemPath = string.Create(CultureInfo.InvariantCulture, $"{path}[{i}]");
            var wrong = item.Kind == JsonValueKind.Null
                ? Wrong(item.Offset, itemPath, "wrong_kind", "null stands in the list.", Means(property))
                : Value(item, element, property, itemPath);
            if (wrong is not null)
            {
                return wrong;
            }
        }

        return null;
    }

    private Refusal? Single(PlacedValue value, JsonTypeInfo type, JsonPropertyInfo? property, string path)
    {
        var isText = type.Type == typeof(string);
        if ((Nullable.GetUnderlyingType(type.Type) ?? type.Type) == typeof(bool))
        {
            return value.Kind is JsonValueKind.True or JsonValueKind.False
                ? null
                : Wrong(value.Offset, path, "wrong_kind", $"{value.InWords} stands where true or false is expected.", Means(property));
        }

        if (value.Kind != (isText ? JsonValueKind.String : JsonValueKind.Number))
        {
            var expected = isText ? "a text in quotes" : "a number";
            return Wrong(value.Offset, path, "wrong_kind", $"{value.InWords} stands where {expected} is expected.", Means(property));
        }

        if (!isText && !double.IsFinite(value.Number))
        {
            return Wrong(value.Offset, path, "wrong_value", $"{value.InWords} is too large.", Means(property));
        }

        if (Attribute<AllowedValuesAttribute>(property) is { } allowed && !allowed.Values.Any(one => Convert.ToString(one, CultureInfo.InvariantCulture) == value.Text))
        {
            return Wrong(value.Offset, path, "wrong_value", $"{value.InWords} is not known here; expected {string.Join(" or ", allowed.Values)}.", Means(property));
        }

        if (Attribute<LengthAttribute>(property) is { } length && (string.IsNullOrWhiteSpace(value.Text) || value.Text.Length > length.MaximumLength))
        {
            return Wrong(
                value.Offset,
                path,
                "wrong_value",
                $"{value.InWords} has {Count(value.Text.Length, "character")}; 1 to {length.MaximumLength.ToString(CultureInfo.InvariantCulture)} are expected, not only spaces.",
                Means(property));
        }

        if (Attribute<WordsAttribute>(property) is { } words && EnumWords.All(words.Words) is var all && !all.Contains(value.Text))
        {
            var nearest = NearestWord.Of(value.Text, all);
            return Wrong(
                value.Offset,
                path,
                "wrong_value",
                $"{Quoted.Text(value.Text, 40)} is not a word known here; expected {string.Join(", ", all)}.",
                nearest is null ? Means(property) : $"Did you mean “{nearest}”? {Means(property)}");
        }

        return null;
    }

    private Refusal Wrong(int offset, string path, string code, string reason, string remedy) =>
        new(code, $"{json.Where(offset)}{(path.Length == 0 ? string.Empty : ", " + path)}: {reason}", remedy);

    private static string Means(JsonPropertyInfo? property) =>
        property is null ? string.Empty : $"{property.Name}: {Attribute<DescriptionAttribute>(property)?.Description}";

    private static string Means(Type document) =>
        document.GetCustomAttribute<DescriptionAttribute>()?.Description ?? string.Empty;

    private static T? Attribute<T>(JsonPropertyInfo? property)
        where T : Attribute =>
        property?.AttributeProvider?.GetCustomAttributes(typeof(T), inherit: false).OfType<T>().FirstOrDefault();

    private static string Count(int count, string noun) =>
        string.Create(CultureInfo.InvariantCulture, $"{count} {(count == 1 ? noun : noun == "entry" ? "entries" : noun + "s")}");

    private static Refusal? FirstOf<T>(IReadOnlyList<T> all, Func<T, Refusal?> check) =>
        all.Select(check).FirstOrDefault(wrong => wrong is not null);
}
