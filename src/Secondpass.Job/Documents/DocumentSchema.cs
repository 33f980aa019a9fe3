using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using System.Reflection;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.Json.Schema;
using System.Text.Json.Serialization.Metadata;

namespace Secondpass.Job.Documents;

/// <summary>The JSON schemas of the documents (draft 2020-12), made from the records that are read and written.</summary>
public static class DocumentSchema
{
    private static readonly (string Name, Type Document)[] Known =
    [
        ("case", typeof(CaseDocument)),
        ("measure", typeof(MeasureDocument)),
        ("compare", typeof(CompareDocument)),
        ("together", typeof(TogetherDocument)),
        ("plan", typeof(PlanDocument)),
        ("drawing", typeof(DrawingDocument)),
        ("measurements", typeof(MeasurementsDocument)),
        ("verify", typeof(VerifyDocument)),
        ("refusal", typeof(RefusalDocument)),
    ];

    // What a file is read into; everything else is written.
    private static readonly Type[] ReadTypes =
    [
        typeof(CaseDocument), typeof(CanalDocument), typeof(LengthDocument), typeof(MeetingDocument), typeof(WallDocument), typeof(ClinicDocument),
        typeof(KindDocument), typeof(ItemDocument), typeof(UnitDocument), typeof(SequenceDocument), typeof(SequenceStepDocument), typeof(LimitsDocument),
        typeof(DrawingDocument),
    ];

    /// <summary>The names of the documents that have a schema.</summary>
    public static IReadOnlyList<string> Names { get; } = [.. Known.Select(known => known.Name)];

    /// <summary>The name of a document's schema.</summary>
    /// <param name="document">One of the document records.</param>
    public static string NameOf(Type document) => Known.Single(known => known.Document == document).Name;

    /// <summary>A document's schema.</summary>
    /// <param name="name">One of <see cref="Names"/>.</param>
    /// <returns>Indented JSON text, closed by a line end.</returns>
    public static string Of(string name)
    {
        var document = Known.Single(known => known.Name == name).Document;
        var exported = (JsonObject)DocumentJson.Options.GetJsonSchemaAsNode(document, new JsonSchemaExporterOptions
        {
            TreatNullObliviousAsNonNullable = true,
            TransformSchemaNode = Complete,
        });
        var schema = new JsonObject
        {
            ["$schema"] = "https://json-schema.org/draft/2020-12/schema",
            ["$id"] = $"urn:secondpass:schema:1:{name}",
            ["title"] = name,
        };
        foreach (var (key, value) in exported)
        {
            schema[key] = value?.DeepClone();
        }

        var written = new JsonSerializerOptions(DocumentJson.Options) { WriteIndented = true, NewLine = "\n" };
        return schema.ToJsonString(written) + "\n";
    }

    // The exporter knows members and kinds of values; the attributes say what is in them.
    private static JsonNode Complete(JsonSchemaExporterContext context, JsonNode node)
    {
        var schema = (JsonObject)node;
        if (context.TypeInfo.Kind == JsonTypeInfoKind.Object && schema.ContainsKey("properties"))
        {
            // What is read may leave out what may be null; what is written has every member.
            var isRead = ReadTypes.Contains(context.TypeInfo.Type);
            schema["required"] = new JsonArray([.. context.TypeInfo.Properties
                .Where(property => !isRead || !property.IsSetNullable)
                .Select(property => (JsonNode)property.Name)]);
            schema["additionalProperties"] = false;
            if (context.TypeInfo.Type.GetCustomAttribute<DescriptionAttribute>() is { } meaning)
            {
                schema["description"] = meaning.Description;
            }
        }

        if (context.PropertyInfo is not { AttributeProvider: { } attributes } property)
        {
            return schema;
        }

        if (Get<ColumnsAttribute>(attributes) is { } columns)
        {
            schema = Rows(columns, context.TypeInfo, property.IsGetNullable);
        }

        if (Get<DescriptionAttribute>(attributes) is { } description)
        {
            schema["description"] = description.Description;
        }

        if (Get<AllowedValuesAttribute>(attributes) is { } allowed)
        {
            if (allowed.Values is [int only])
            {
                schema["const"] = only;
            }
            else
            {
                schema["enum"] = new JsonArray([.. allowed.Values.Select(value => (JsonNode)(string)value!)]);
            }
        }

        if (Get<WordsAttribute>(attributes) is { } words)
        {
            var known = EnumWords.All(words.Words).Select(word => (JsonNode)word);
            if (context.TypeInfo.Kind == JsonTypeInfoKind.Enumerable)
            {
                schema["items"] = new JsonObject { ["type"] = "string", ["enum"] = new JsonArray([.. known]) };
            }
            else
            {
                schema["enum"] = new JsonArray([.. known, .. property.IsGetNullable ? [null] : Array.Empty<JsonNode?>()]);
            }
        }

        if (Get<RegularExpressionAttribute>(attributes) is { } expression)
        {
            schema["pattern"] = expression.Pattern;
        }

        if (Get<RangeAttribute>(attributes) is { } range)
        {
            schema["minimum"] = (double)range.Minimum;
            schema["maximum"] = (double)range.Maximum;
        }

        if (Get<MinLengthAttribute>(attributes) is { } least)
        {
            schema["minItems"] = least.Length;
        }

        if (Get<LengthAttribute>(attributes) is { } length)
        {
            var isText = property.PropertyType == typeof(string);
            schema[isText ? "minLength" : "minItems"] = length.MinimumLength;
            schema[isText ? "maxLength" : "maxItems"] = length.MaximumLength;
        }

        return schema;
    }

    private static JsonObject Rows(ColumnsAttribute columns, JsonTypeInfo type, bool mayBeNull)
    {
        var row = new JsonObject
        {
            ["type"] = "array",
            ["prefixItems"] = new JsonArray([.. columns.Names.Select(name => new JsonObject { ["type"] = "number", ["description"] = name })]),
            ["items"] = false,
            ["minItems"] = columns.Names.Count,
        };
        if (type.Kind == JsonTypeInfoKind.Dictionary)
        {
            return new JsonObject { ["type"] = "object", ["additionalProperties"] = row };
        }

        var schema = type.ElementType == typeof(double) ? row : new JsonObject { ["type"] = "array", ["items"] = row };
        if (mayBeNull)
        {
            schema["type"] = new JsonArray("array", "null");
        }

        return schema;
    }

    private static T? Get<T>(ICustomAttributeProvider attributes)
        where T : Attribute =>
        attributes.GetCustomAttributes(typeof(T), inherit: false).OfType<T>().FirstOrDefault();
}
